import type { Diagnostic, Master } from '@haunch/model';
import { type DryPiece, standPiece } from './dry-piece.js';
import { type Finding, judgePair, volumeBetween } from './judge-piece.js';
import { explain } from './suspect.js';

/**
 * What keeps the parts of a piece from being there all at once: pairs that interpenetrate, named by their cause where
 * one cause explains them. The quick half of `dryAssemble`: neither the hold of joints nor the order is judged, so
 * that it can be asked before every cut. mm³ in the world of the frames; contact within 0.001 mm is no overlap.
 */
export function checkOverlaps(from: Master | DryPiece): Diagnostic[] {
  const { piece, problems } = standPiece(from);
  if (!piece) return problems;
  const findings = piece.solids.flatMap((a, i) =>
    piece.solids
      .slice(i + 1)
      .flatMap((b): Finding[] =>
        volumeBetween(a, b) > 0
          ? judgePair(piece, a, b, 0).problems.map((problem) => ({ parts: [a.id, b.id], problem }))
          : [],
      ),
  );
  return findings.length === 0 ? [] : explain(piece, findings, 0, () => true);
}
