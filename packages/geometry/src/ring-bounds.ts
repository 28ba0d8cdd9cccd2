import { type Ring, ringSegments, type Segment } from './ring.js';
import { arcHolds } from './segment-course.js';

/** An axis-parallel box, mm. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Whether the direction `angle` (radians) lies within an arc that starts at `start` and sweeps `sweep`. */
export function angleInSweep(angle: number, start: number, sweep: number): boolean {
  const full = 2 * Math.PI;
  const d = sweep >= 0 ? angle - start : start - angle;
  return ((d % full) + full) % full <= Math.abs(sweep);
}

/** The box round a segment, exact for arcs. */
export function segmentBounds(s: Segment): Box {
  let minX = Math.min(s.from.x, s.to.x);
  let maxX = Math.max(s.from.x, s.to.x);
  let minY = Math.min(s.from.y, s.to.y);
  let maxY = Math.max(s.from.y, s.to.y);
  if (s.kind === 'arc') {
    const { centre: c, radius: r } = s;
    if (arcHolds(s, c.x + r, c.y)) maxX = Math.max(maxX, c.x + r);
    if (arcHolds(s, c.x, c.y + r)) maxY = Math.max(maxY, c.y + r);
    if (arcHolds(s, c.x - r, c.y)) minX = Math.min(minX, c.x - r);
    if (arcHolds(s, c.x, c.y - r)) minY = Math.min(minY, c.y - r);
  }
  return { minX, minY, maxX, maxY };
}

/** The box round a ring, exact for arcs. */
export function ringBounds(r: Ring): Box {
  const out = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (const s of ringSegments(r)) {
    const b = segmentBounds(s);
    out.minX = Math.min(out.minX, b.minX);
    out.minY = Math.min(out.minY, b.minY);
    out.maxX = Math.max(out.maxX, b.maxX);
    out.maxY = Math.max(out.maxY, b.maxY);
  }
  return out;
}
