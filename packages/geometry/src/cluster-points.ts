import type { Point } from './point.js';

/**
 * For each point the number of the point that stands for it: points nearer than `tolerance` mm to one that
 * stands for itself are taken together. The choice depends on the points alone.
 */
export function clusterPoints(points: readonly Point[], tolerance: number): number[] {
  const order = points.map((_, i) => i);
  order.sort((i, j) => points[i]!.x - points[j]!.x || points[i]!.y - points[j]!.y || i - j);
  const standsFor = new Array<number>(points.length);
  const leaders: number[] = [];
  let oldest = 0;
  for (const i of order) {
    const p = points[i]!;
    while (oldest < leaders.length && points[leaders[oldest]!]!.x < p.x - tolerance) oldest++;
    let leader = i;
    for (let k = leaders.length - 1; k >= oldest; k--) {
      const q = points[leaders[k]!]!;
      if (Math.hypot(q.x - p.x, q.y - p.y) <= tolerance) {
        leader = leaders[k]!;
        break;
      }
    }
    standsFor[i] = leader;
    if (leader === i) leaders.push(i);
  }
  return standsFor;
}
