import type { Ring } from './ring.js';
import { ringArea } from './ring-area.js';
import { ringBounds } from './ring-bounds.js';

/** Of the area of the box, what rounding may take. */
const ROUNDING = 1e-9;

/**
 * Whether a ring that does not cross itself is a rectangle along the axes, whichever way round it runs and however many vertices its sides
 * have: it fills its box but for rounding. False for a ring without area.
 */
export function fillsItsBox(r: Ring): boolean {
  const { minX, minY, maxX, maxY } = ringBounds(r);
  const box = (maxX - minX) * (maxY - minY);
  return Math.abs(Math.abs(ringArea(r)) - box) < ROUNDING * box;
}
