import { type Ring, type Segment, ringSegments } from './ring.js';

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
    const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
    if (angleInSweep(0, start, s.sweep)) maxX = Math.max(maxX, s.centre.x + s.radius);
    if (angleInSweep(Math.PI / 2, start, s.sweep)) maxY = Math.max(maxY, s.centre.y + s.radius);
    if (angleInSweep(Math.PI, start, s.sweep)) minX = Math.min(minX, s.centre.x - s.radius);
    if (angleInSweep(-Math.PI / 2, start, s.sweep)) minY = Math.min(minY, s.centre.y - s.radius);
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
