import { distance, type Point } from './point.js';
import { type ArcSegment, type LineSegment, type Segment, segmentOfBulge } from './ring.js';

/** Sweeps this near to a full turn belong to circles without end, and angles this near to each other are equal. */
const SAME_ANGLE = 1e-12;

/** Arcs nearer to a full turn than this have radii beyond what doubles can place. */
const FULL_TURN = 1e-6;

/**
 * Two arcs that leave `p0` in the direction `t0`, arrive in `p1` in the direction `t1`, and meet with one
 * direction. Of all such pairs this is the one with equal chords: the joint is as far from `p0` as from `p1`.
 * With α and β the angles of `t0` and `t1` to the chord, the chords lean (α − β)/4 from it and the arcs sweep
 * −(3α + β)/2 and (α + 3β)/2, so that there is a pair for all directions but one. mm, mm.
 *
 * Either may be a line. One segment is given where one line or one arc does (α = −β). The directions need not
 * be of unit length. Guaranteed: the ends are `p0` and `p1` themselves; directions are kept to rounding.
 * Source: the joints of all biarcs lie on a circle through both ends (Bolton, Computer-Aided Design 7, 1975;
 * from memory); the formulas follow from an arc leaving its chord by half its sweep at both ends.
 * @throws RangeError when the ends are one point, a direction has no length, a number is not finite, or both
 * directions point straight back along the chord (no two arcs do that).
 */
export function biarc(
  p0: Point,
  t0: Point,
  p1: Point,
  t1: Point,
): [ArcSegment | LineSegment, ...(ArcSegment | LineSegment)[]] {
  const chord = distance(p0, p1);
  const lengths = Math.hypot(t0.x, t0.y) * Math.hypot(t1.x, t1.y) * chord;
  if (!(lengths > 0) || !Number.isFinite(lengths))
    throw new RangeError(
      `biarc: needs two ends apart and two directions, not (${p0.x}, ${p0.y}) → (${p1.x}, ${p1.y})`,
    );
  const v = { x: p1.x - p0.x, y: p1.y - p0.y };
  const alpha = angleBetween(v, t0);
  const beta = angleBetween(v, t1);
  if (Math.abs(alpha + beta) <= SAME_ANGLE && Math.abs(alpha) < Math.PI - FULL_TURN)
    return [segmentOfBulge(p0, p1, Math.tan(-alpha / 2))];
  const sweeps = [-(3 * alpha + beta) / 2, (alpha + 3 * beta) / 2] as const;
  const lean = (alpha - beta) / 4;
  const half = chord / 2 / Math.cos(lean);
  const most = 2 * Math.PI - FULL_TURN;
  if (!Number.isFinite(half) || half > 1e6 * chord || sweeps.some((s) => Math.abs(s) > most))
    throw new RangeError(
      `biarc: no two arcs go from (${p0.x}, ${p0.y}) to (${p1.x}, ${p1.y}), straight behind it`,
    );
  const c = (Math.cos(lean) * half) / chord;
  const s = (Math.sin(lean) * half) / chord;
  const joint: Point = { x: p0.x + v.x * c - v.y * s, y: p0.y + v.x * s + v.y * c };
  return [
    segmentOfBulge(p0, joint, Math.tan(sweeps[0] / 4)),
    segmentOfBulge(joint, p1, Math.tan(sweeps[1] / 4)),
  ];
}

/** The signed angle from one direction to another, (−π, π]. */
const angleBetween = (a: Point, b: Point): number => Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);

/** The arc or line that leaves `from` in the direction `t` and ends in `to`. */
export const tangentArc = (from: Point, t: Point, to: Point): Segment =>
  segmentOfBulge(from, to, Math.tan(angleBetween(t, { x: to.x - from.x, y: to.y - from.y }) / 2));
