import type { Ring } from './ring.js';
import type { Box } from './ring-bounds.js';
import { curveOfRing } from './ring-curve.js';
import { segmentsDistance } from './segment-gap.js';

/** The distance between two boxes, mm; 0 where they meet. A lower limit for what is in them. */
function boxGap(a: Box, b: Box): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return Math.sqrt(dx * dx + dy * dy);
}

/**
 * The least distance between the curves of two rings, mm; 0 where they cross or touch (within 0.0000001 mm).
 * Exact for lines and arcs; Infinity where a ring has no segment. A ring wholly inside the other is as far away as its curve is: see `ringInside`.
 */
export function ringsDistance(a: Ring, b: Ring): number {
  const one = curveOfRing(a);
  const two = curveOfRing(b);
  const gapsOne = one.boxes.map((box) => boxGap(box, two.bounds));
  const gapsTwo = two.boxes.map((box) => boxGap(box, one.bounds));
  if (gapsOne.length === 0 || gapsTwo.length === 0) return Infinity;
  // The true distance of a promising pair rules out nearly all others by their boxes.
  const q = nearest(two.boxes, one.boxes[nearest(one.boxes, two.bounds)]!);
  const p = nearest(one.boxes, two.boxes[q]!);
  let least = segmentsDistance(one.segments[p]!, two.segments[q]!);
  for (let i = 0; i < gapsOne.length && least > 0; i++) {
    if (gapsOne[i]! >= least) continue;
    for (let j = 0; j < gapsTwo.length && least > 0; j++) {
      if (gapsTwo[j]! >= least || boxGap(one.boxes[i]!, two.boxes[j]!) >= least) continue;
      least = Math.min(least, segmentsDistance(one.segments[i]!, two.segments[j]!));
    }
  }
  return least;
}

const nearest = (boxes: readonly Box[], to: Box): number =>
  boxes.reduce((best, box, i) => (boxGap(box, to) < boxGap(boxes[best]!, to) ? i : best), 0);
