import type { DryRun } from '../dryfit/dry-run.js';
import { scoreWithSlots } from './empty-slots.js';
import type { Piece } from './piece.js';
import type { Plate } from './plate-layers.js';
import type { PoseBook } from './pose-book.js';
import { bettered } from './rearrange.js';
import { mirrorOf, samePiece } from './same-piece.js';
import { ratingOf } from './settled-misfit.js';

/** How much less may speak for a piece as it was grown that is still rated: a place may be taken up to 0.6 mm off. */
const RATED = 0.6;

/**
 * What a piece may fit worse and still be as good: two shoulders 0.07 mm off their faces, which drawings on a grid of a
 * hundredth of a millimetre do not reach by rounding. mm²
 */
const AS_GOOD = 0.01;

interface Rated {
  readonly piece: Piece;
  readonly rating: number;
}

/** Those as good as the best, each once. */
function best(rated: readonly Rated[]): Rated[] {
  const most = Math.max(...rated.map((r) => r.rating));
  const out: Rated[] = [];
  for (const r of rated)
    if (r.rating >= most - AS_GOOD && !out.some((o) => samePiece(o.piece, r.piece))) out.push(r);
  return out;
}

/**
 * The pieces that the parts bear out as well as the best, each once, best grown first: those of `grown` (best first),
 * the first of them bettered where plates of different kinds fit better in each other's places, and mirror images. One whose walls
 * stand farther from where they should is not as good.
 */
export function equalPieces(
  grown: readonly Piece[],
  plates: readonly Plate[],
  book: PoseBook,
  run?: DryRun,
): Piece[] {
  if (grown.length === 0) return [];
  const most = Math.max(...grown.map((p) => scoreWithSlots(p, plates)));
  const good = grown.filter((p) => scoreWithSlots(p, plates) > most - RATED);
  const rated = good
    .filter((p) => p.standing.size === good[0]!.standing.size)
    .map((piece): Rated => ({ piece, rating: ratingOf(piece, book) }));
  const { piece } = best(rated)[0]!;
  const other = bettered(piece, plates, book, run);
  if (other !== piece) rated.push({ piece: other, rating: ratingOf(other, book) });
  const out = best(rated).map((r) => r.piece);
  for (const p of [...out]) {
    const m = mirrorOf(p);
    if (m !== null && !out.some((o) => samePiece(o, m))) out.push(m);
  }
  return out;
}
