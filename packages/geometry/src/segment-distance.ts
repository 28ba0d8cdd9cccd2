import type { Point } from './point.js';
import type { Ring, Segment } from './ring.js';
import { ringSegments } from './ring.js';
import { angleInSweep } from './ring-bounds.js';

/** The point of a segment nearest to `p`. */
export function nearestOnSegment(s: Segment, p: Point): Point {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l2 = dx * dx + dy * dy;
    const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / l2));
    return { x: s.from.x + t * dx, y: s.from.y + t * dy };
  }
  const a = Math.atan2(p.y - s.centre.y, p.x - s.centre.x);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  if (angleInSweep(a, start, s.sweep))
    return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
  const df = Math.hypot(p.x - s.from.x, p.y - s.from.y);
  const dt = Math.hypot(p.x - s.to.x, p.y - s.to.y);
  return df <= dt ? s.from : s.to;
}

/** The distance from a point to a segment, mm; exact for arcs. */
export function pointSegmentDistance(s: Segment, p: Point): number {
  const q = nearestOnSegment(s, p);
  return Math.hypot(q.x - p.x, q.y - p.y);
}

/** The distance from a point to the curve of a ring, mm, whichever side it is on. */
export function pointRingDistance(r: Ring, p: Point): number {
  let best = Infinity;
  for (const s of ringSegments(r)) best = Math.min(best, pointSegmentDistance(s, p));
  return best;
}
