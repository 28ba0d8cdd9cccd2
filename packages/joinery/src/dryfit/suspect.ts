import { ringBounds } from '@haunch/geometry';
import type { Contour, Diagnostic, Part } from '@haunch/model';
import { along } from '../frame.js';
import { unmirrored, wrongFace, wrongSheet } from './diagnostics.js';
import type { StandingPiece } from './dry-piece.js';
import { type Finding, problemsOf } from './judge-piece.js';
import { mirroredRing, type Solid, solidOf } from './solid.js';

/** One cause that would explain all that is wrong with a part. */
interface Suspicion {
  readonly solid: Solid;
  readonly diagnostic: (others: readonly string[]) => Diagnostic;
}

function mirrored(part: Part, axis: 'x' | 'y'): Part {
  const b = ringBounds(part.outline.ring);
  const about = axis === 'x' ? b.minX + b.maxX : b.minY + b.maxY;
  const contour = <C extends Contour>(c: C): C => ({
    ...c,
    ring: mirroredRing(c.ring, about, axis),
    bare: mirroredRing(c.bare, about, axis),
  });
  return {
    ...part,
    outline: contour(part.outline),
    through: part.through.map(contour),
    pockets: part.pockets.map(contour),
  };
}

/** Thicknesses that the rest of the piece suggests for a part, the likeliest first. */
function otherThicknesses(piece: StandingPiece, part: Solid): number[] {
  const counts = new Map<number, number>();
  for (const s of piece.solids)
    if (s.id !== part.id) counts.set(s.thickness, (counts.get(s.thickness) ?? 0) + 1);
  const common = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([t]) => t);
  const all = piece.designThickness === null ? common : [piece.designThickness, ...common];
  return [...new Set(all)].filter((t) => Math.abs(t - part.thickness) > 1e-6).slice(0, 3);
}

/** What might be the matter with a part, the plainest first. */
function* suspicions(piece: StandingPiece, s: Solid): Generator<Suspicion> {
  // Which face stays when the thickness changes is the drawing's secret: face n−, face n+ or the middle.
  for (const t of otherThicknesses(piece, s))
    for (const share of [0, 1, 0.5])
      yield {
        solid: solidOf(
          s.part,
          { ...s.frame, origin: along(s.frame.origin, share * (s.thickness - t), s.frame.n) },
          t,
        ),
        diagnostic: (others) => wrongSheet(s.id, s.thickness, t, others),
      };
  const { pockets } = s.part;
  const flipped = (ids: readonly string[]): Suspicion => ({
    solid: solidOf(
      {
        ...s.part,
        pockets: pockets.map((p) => (ids.includes(p.id) ? { ...p, face: p.face === 'n-' ? 'n+' : 'n-' } : p)),
      },
      s.frame,
      s.thickness,
    ),
    diagnostic: (others) => wrongFace(s.id, ids.join(', '), others),
  });
  for (const p of pockets) yield flipped([p.id]);
  if (pockets.length > 1) yield flipped(pockets.map((p) => p.id));
  for (const axis of ['x', 'y'] as const)
    yield {
      solid: solidOf(mirrored(s.part, axis), s.frame, s.thickness),
      diagnostic: (others) => unmirrored(s.id, others),
    };
}

/**
 * Looks for one cause behind several findings: a part drawn for the other hand, a pocket in the wrong face, a plate
 * from a wrong sheet. A cause is named only when correcting it leaves the part with nothing wrong at all; its findings
 * are then replaced by it. `tick` answers false when the search must stop.
 */
export function explain(
  piece: StandingPiece,
  findings: readonly Finding[],
  play: number,
  tick: () => boolean,
): Diagnostic[] {
  const out: Diagnostic[] = [];
  let left = [...findings];
  const countOf = (id: string): number => left.filter((f) => f.parts.includes(id)).length;
  const tried = new Set<string>();
  for (;;) {
    const next = piece.solids
      .filter((s) => !tried.has(s.id) && countOf(s.id) > 0)
      .sort((a, b) => countOf(b.id) - countOf(a.id) || (a.id < b.id ? -1 : 1))[0];
    if (!next || !tick()) break;
    tried.add(next.id);
    const mine = left.filter((f) => f.parts.includes(next.id));
    if (mine.every((f) => f.problem.code === 'dryfit/doubled')) continue;
    for (const s of suspicions(piece, next)) {
      if (!tick()) break;
      if (problemsOf(piece, s.solid, play).length > 0) continue;
      const others = [...new Set(mine.flatMap((f) => f.parts))].filter((id) => id !== next.id);
      out.push(s.diagnostic(others));
      left = left.filter((f) => !f.parts.includes(next.id));
      break;
    }
  }
  return [...out, ...left.map((f) => f.problem)];
}
