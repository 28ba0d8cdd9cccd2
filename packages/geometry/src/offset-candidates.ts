import { COINCIDE } from './offset-tolerance.js';
import { distance, type Point } from './point.js';
import type { Segment } from './ring.js';
import { endDirection, startDirection, turnBetween } from './segment-course.js';

/** A half turn's rounding: a turn this near to it is treated as turning to either side. */
const NEARLY_HALF_TURN = Math.PI - 1e-6;

/**
 * All curves on which points at distance |`out`| from a closed chain of segments can lie, to its right for
 * `out` > 0 and to its left for `out` < 0: the segments moved along their normals and, at every corner that
 * gapes on that side, an arc round the corner; the `joins` arcs round corners come last. An arc whose radius would not stay positive has none.
 */
export function offsetCandidates(
  source: readonly Segment[],
  out: number,
): { readonly curves: readonly Segment[]; readonly joins: number } {
  const moved = source.map((s) => moveSegment(s, out));
  const joins: Segment[] = [];
  for (let i = 0; i < source.length; i++) {
    const j = (i + 1) % source.length;
    const before = source[i]!;
    const after = source[j]!;
    const turn = turnBetween(before, after);
    if (turn * out <= 0 && Math.abs(turn) < NEARLY_HALF_TURN) continue;
    const corner = after.from;
    const a = moved[i];
    const b = moved[j];
    const from = a?.to ?? besideCorner(corner, endDirection(before), out);
    const to = b?.from ?? besideCorner(corner, startDirection(after), out);
    const gap = distance(from, to);
    if (gap <= COINCIDE) continue;
    const sweep = Math.sign(out) * Math.abs(turn);
    joins.push({ kind: 'arc', from, to, centre: corner, radius: Math.abs(out), sweep });
  }
  return { curves: [...moved.filter((s) => s !== undefined), ...joins], joins: joins.length };
}

const besideCorner = (corner: Point, direction: Point, out: number): Point => ({
  x: corner.x + out * direction.y,
  y: corner.y - out * direction.x,
});

/** A segment moved to its right by `out`; undefined for an arc whose radius would vanish or turn negative. */
export function moveSegment(s: Segment, out: number): Segment | undefined {
  if (s.kind === 'line') {
    const d = startDirection(s);
    return { ...s, from: besideCorner(s.from, d, out), to: besideCorner(s.to, d, out) };
  }
  const radius = s.radius + (s.sweep < 0 ? -out : out);
  if (radius <= COINCIDE / 4) return undefined;
  const k = radius / s.radius;
  const at = (p: Point): Point => ({
    x: s.centre.x + (p.x - s.centre.x) * k,
    y: s.centre.y + (p.y - s.centre.y) * k,
  });
  return { ...s, from: at(s.from), to: at(s.to), radius };
}
