import type { Ring } from './ring.js';
import type { Box } from './ring-bounds.js';
import { curveOfRing } from './ring-curve.js';
import { segmentsDistance } from './segment-gap.js';

/** The distance between two boxes, mm; 0 where they meet. A lower limit for what is in them. */
function boxGap(a: Box, b: Box): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return dx === 0 ? dy : dy === 0 ? dx : Math.hypot(dx, dy);
}

/**
 * The least distance between the curves of two rings, mm; 0 where they cross or touch (within 0.0000001 mm).
 * Exact for lines and arcs. A ring wholly inside the other is as far away as its curve is: see `ringInside`.
 */
export function ringsDistance(a: Ring, b: Ring): number {
  const one = curveOfRing(a);
  const two = curveOfRing(b);
  // The nearest boxes first: the first true distance then rules out nearly all other pairs.
  const order = (boxes: readonly Box[], other: Box) =>
    boxes.map((box, i) => ({ i, gap: boxGap(box, other) })).sort((p, q) => p.gap - q.gap || p.i - q.i);
  const fromOne = order(one.boxes, two.bounds);
  const fromTwo = order(two.boxes, one.bounds);
  let least = Infinity;
  for (const p of fromOne) {
    if (p.gap >= least) break;
    for (const q of fromTwo) {
      if (q.gap >= least) break;
      if (boxGap(one.boxes[p.i]!, two.boxes[q.i]!) >= least) continue;
      least = Math.min(least, segmentsDistance(one.segments[p.i]!, two.segments[q.i]!));
      if (least === 0) return 0;
    }
  }
  return least;
}
