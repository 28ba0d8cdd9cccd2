import type { Point } from './point.js';
import { type Ring, ringSegments } from './ring.js';
import { angleInSweep } from './ring-bounds.js';
import { pointRingDistance } from './segment-distance.js';
import { GRID } from './snap.js';

/**
 * Where a point lies with respect to a ring: `on` means within half a grid step (0.00005 mm) of the curve.
 * Arcs are exact. The winding is that of the curve; orientation does not matter.
 */
export function pointInRing(r: Ring, p: Point): 'inside' | 'outside' | 'on' {
  if (pointRingDistance(r, p) <= GRID / 2) return 'on';
  // Winding number: the chords by crossings of the ray to +x, and each arc's lens between chord and arc.
  let winding = 0;
  for (const s of ringSegments(r)) {
    const up = s.from.y <= p.y && s.to.y > p.y;
    const down = s.from.y > p.y && s.to.y <= p.y;
    const side = (s.to.x - s.from.x) * (p.y - s.from.y) - (p.x - s.from.x) * (s.to.y - s.from.y);
    if (up && side > 0) winding++;
    else if (down && side < 0) winding--;
    if (s.kind === 'arc' && Math.hypot(p.x - s.centre.x, p.y - s.centre.y) < s.radius) {
      // Inside the circle: the point is in the lens when it is on the arc's side of the chord.
      const inLens =
        s.sweep > 0
          ? side < 0 || (side === 0 && downRightOpen(s, p))
          : side > 0 || (side === 0 && !downRightOpen(s, p));
      if (inLens) winding += s.sweep > 0 ? 1 : -1;
    }
  }
  return winding !== 0 ? 'inside' : 'outside';
}

/** For a point exactly on an arc's chord: whether the chord crossing above left it outside the chord polygon. */
function downRightOpen(s: { from: Point; to: Point; centre: Point; sweep: number }, p: Point): boolean {
  const up = s.from.y <= p.y && s.to.y > p.y;
  const down = s.from.y > p.y && s.to.y <= p.y;
  if (!up && !down) return angleInSweep(0, Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x), s.sweep);
  return true;
}
