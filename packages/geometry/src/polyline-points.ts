import { segmentPoints } from './flatten.js';
import type { Point } from './point.js';
import type { Segment } from './ring.js';
import { GRID } from './snap.js';

/**
 * The points of a polyline that follows an open course of segments within `tolerance` mm, from its first
 * point to its last; points lie on the curve.
 * @throws RangeError when the tolerance is not positive or a segment does not start where the last one ended.
 */
export function polylinePoints(
  segments: readonly Segment[],
  { tolerance }: { readonly tolerance: number },
): Point[] {
  if (!(tolerance > 0)) throw new RangeError(`polylinePoints: tolerance ${tolerance} must be positive`);
  const points: Point[] = [];
  let end: Point | undefined;
  for (const s of segments) {
    if (end && Math.hypot(s.from.x - end.x, s.from.y - end.y) > GRID)
      throw new RangeError(`polylinePoints: a gap at (${end.x}, ${end.y})`);
    for (const { x, y } of segmentPoints(s, tolerance)) points.push({ x, y });
    end = s.to;
  }
  if (end) points.push({ x: end.x, y: end.y });
  return points;
}
