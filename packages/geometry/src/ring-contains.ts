import type { Point } from './point.js';
import { rayCrossings } from './ray-crossings.js';
import type { Ring } from './ring.js';
import { curveOfRing } from './ring-curve.js';
import { pointSegmentDistance } from './segment-distance.js';
import { GRID } from './snap.js';

/**
 * Where a point lies with respect to a ring: `on` means within half a grid step (0.00005 mm) of the curve.
 * Arcs are exact. The rule is non-zero winding; orientation does not matter.
 */
export function pointInRing(r: Ring, p: Point): 'inside' | 'outside' | 'on' {
  const { segments, boxes, bounds } = curveOfRing(r);
  const near = GRID / 2;
  if (p.x < bounds.minX - near || p.x > bounds.maxX + near) return 'outside';
  if (p.y < bounds.minY - near || p.y > bounds.maxY + near) return 'outside';
  let winding = 0;
  for (let i = 0; i < segments.length; i++) {
    const s = segments[i]!;
    const b = boxes[i]!;
    // The ray to +x passes only what reaches its height and lies to the right.
    if (p.y < b.minY - near || p.y > b.maxY + near || p.x > b.maxX + near) continue;
    if (p.x >= b.minX - near && pointSegmentDistance(s, p) <= near) return 'on';
    winding += rayCrossings(s, p);
  }
  return winding !== 0 ? 'inside' : 'outside';
}
