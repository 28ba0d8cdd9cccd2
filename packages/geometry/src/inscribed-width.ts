import { offsetRing } from './offset-ring.js';
import { type Ring, ringSegments } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { ringBounds } from './ring-bounds.js';
import { pointInRing } from './ring-contains.js';
import { pointAlong } from './segment-course.js';
import { pointRingDistance } from './segment-distance.js';

/** Half of the promised ±0.0001 mm of the width, as a radius, with a little in hand. mm */
const RADIUS_WITHIN = 2e-5;

/**
 * The diameter of the largest circle that lies inside a simple ring, within ±0.0001 mm: the largest cutter
 * that finds room in it. 0 for a ring without area.
 */
export function inscribedWidth(r: Ring): number {
  const area = Math.abs(ringArea(r));
  const perimeter = ringPerimeter(r);
  if (perimeter === 0 || area === 0) return 0;
  const box = ringBounds(r);
  // A circle must fit into the box and have no more area; and A ≤ P·r for every simple closed curve with an
  // inscribed circle of radius r (Bonnesen's inequality, r·P ≥ A + π r²).
  let most = Math.min((box.maxX - box.minX) / 2, (box.maxY - box.minY) / 2, Math.sqrt(area / Math.PI));
  let least = Math.min(most, area / perimeter);
  while (most - least > RADIUS_WITHIN) {
    const radius = (least + most) / 2;
    const rest = offsetRing(r, { by: -radius });
    if (rest.length === 0) most = radius;
    // What is left has room round its own middle as well, so the step may be longer than half.
    else least = Math.min(most, Math.max(radius, ...rest.map((s) => roomWithin(r, s))));
  }
  return least + most;
}

/** The room round the middle of a ring inside the other; 0 where that middle lies outside. */
function roomWithin(r: Ring, inside: Ring): number {
  const points = ringSegments(inside).map((s) => pointAlong(s, 0.5));
  const x = points.reduce((sum, p) => sum + p.x, 0) / points.length;
  const y = points.reduce((sum, p) => sum + p.y, 0) / points.length;
  return pointInRing(r, { x, y }) === 'inside' ? pointRingDistance(r, { x, y }) : 0;
}
