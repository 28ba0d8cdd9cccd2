import { offsetRing, type Ring, ringBounds } from '@haunch/geometry';

/** Diameter of the largest circle inside a ring, mm, within 0.0001: bisection on the inward offset. */
export function inscribedWidth(r: Ring): number {
  const b = ringBounds(r);
  let [yes, no] = [0, Math.min(b.maxX - b.minX, b.maxY - b.minY) / 2 + 0.01];
  while (no - yes > 0.00005) {
    const d = (yes + no) / 2;
    if (offsetRing(r, { by: -d }).length > 0) yes = d;
    else no = d;
  }
  return 2 * yes;
}
