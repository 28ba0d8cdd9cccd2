import type { Point } from './point.js';
import type { Ring, Segment } from './ring.js';
import { ringSegments } from './ring.js';
import { arcHolds } from './segment-course.js';

/** The point of a segment nearest to `p`; for the very centre of an arc, where all are alike, its start. */
export function nearestOnSegment(s: Segment, p: Point): Point {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l2 = dx * dx + dy * dy;
    const t = l2 === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / l2;
    if (t <= 0) return s.from;
    return t >= 1 ? s.to : { x: s.from.x + t * dx, y: s.from.y + t * dy };
  }
  const rx = p.x - s.centre.x;
  const ry = p.y - s.centre.y;
  const l = Math.hypot(rx, ry);
  if (l === 0) return s.from;
  if (arcHolds(s, p.x, p.y))
    return { x: s.centre.x + (rx * s.radius) / l, y: s.centre.y + (ry * s.radius) / l };
  const df = Math.hypot(p.x - s.from.x, p.y - s.from.y);
  const dt = Math.hypot(p.x - s.to.x, p.y - s.to.y);
  return df <= dt ? s.from : s.to;
}

/** The distance from a point to a segment, mm; exact for arcs. */
export function pointSegmentDistance(s: Segment, p: Point): number {
  const fx = p.x - s.from.x;
  const fy = p.y - s.from.y;
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l2 = dx * dx + dy * dy;
    const t = l2 === 0 ? 0 : (fx * dx + fy * dy) / l2;
    if (t <= 0) return Math.sqrt(fx * fx + fy * fy);
    const k = Math.min(t, 1);
    const x = fx - k * dx;
    const y = fy - k * dy;
    return Math.sqrt(x * x + y * y);
  }
  if (arcHolds(s, p.x, p.y)) {
    const rx = p.x - s.centre.x;
    const ry = p.y - s.centre.y;
    return Math.abs(Math.sqrt(rx * rx + ry * ry) - s.radius);
  }
  const tx = p.x - s.to.x;
  const ty = p.y - s.to.y;
  return Math.sqrt(Math.min(fx * fx + fy * fy, tx * tx + ty * ty));
}

/** The distance from a point to the curve of a ring, mm, whichever side it is on. */
export function pointRingDistance(r: Ring, p: Point): number {
  let best = Infinity;
  for (const s of ringSegments(r)) best = Math.min(best, pointSegmentDistance(s, p));
  return best;
}
