import type { Point } from './point.js';
import type { Ring, Segment } from './ring.js';
import { curveOfRing } from './ring-curve.js';
import { segmentLength, turnBetween } from './segment-course.js';
import { GRID } from './snap.js';

/** A vertex of a ring as a corner between two segments. */
export interface RingCorner {
  /** The number of the vertex in the ring. */
  readonly index: number;
  readonly at: Point;
  /** The signed exterior angle, radians, positive to the left, in (−π, π]; 0 where the sides are tangent. */
  readonly turn: number;
  readonly before: Segment;
  readonly after: Segment;
}

/** Even between exact coordinates, rounding turns a direction by this much at the most, radians. */
const ROUNDING = 1e-9;

/**
 * The corners of a ring, one for each segment's start, in order. Sides count as tangent where the turn is no
 * more than snapping their ends to the 0.0001 mm grid can have made. For a simple counter-clockwise ring the
 * turns and the arcs' sweeps add up to 2π. Vertices that start no segment are left out.
 */
export function ringCorners(r: Ring): RingCorner[] {
  const { segments, vertexOf } = curveOfRing(r);
  return segments.map((after, i) => {
    const before = segments[(i + segments.length - 1) % segments.length]!;
    const turn = turnBetween(before, after);
    // An end that moves by half a grid diagonal turns its segment by at most this.
    const bent = ROUNDING + GRID / segmentLength(before) + GRID / segmentLength(after);
    const tangent = Math.abs(turn) <= bent;
    const at = { x: after.from.x, y: after.from.y };
    return { index: vertexOf[i]!, at, turn: tangent ? 0 : turn, before, after };
  });
}
