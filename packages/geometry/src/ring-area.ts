import { type Ring, reverseRing, ringSegments } from './ring.js';

/**
 * Signed area enclosed by a ring, mm²: positive counter-clockwise. Exact for arcs (shoelace plus the
 * circular segments r²(φ − sin φ)/2).
 */
export function ringArea(r: Ring): number {
  let area = 0;
  for (const s of ringSegments(r)) {
    area += (s.from.x * s.to.y - s.to.x * s.from.y) / 2;
    if (s.kind === 'arc') area += (s.radius * s.radius * (s.sweep - Math.sin(s.sweep))) / 2;
  }
  return area;
}

/** The length of a ring, mm; exact for arcs. */
export const ringPerimeter = (r: Ring): number =>
  ringSegments(r).reduce(
    (sum, s) =>
      sum +
      (s.kind === 'arc' ? s.radius * Math.abs(s.sweep) : Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)),
    0,
  );

/** The ring walked counter-clockwise. */
export const counterClockwise = (r: Ring): Ring => (ringArea(r) < 0 ? reverseRing(r) : r);

/** The ring walked clockwise. */
export const clockwise = (r: Ring): Ring => (ringArea(r) > 0 ? reverseRing(r) : r);
