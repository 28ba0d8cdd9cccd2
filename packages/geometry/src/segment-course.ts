import type { Point } from './point.js';
import type { ArcSegment, Segment } from './ring.js';

const FULL = 2 * Math.PI;

/**
 * Whether a ray from the arc's centre through (x, y) meets the arc. Cross products only, so that the ends
 * are decided as exactly as their coordinates are.
 */
export function arcHolds(s: ArcSegment, x: number, y: number): boolean {
  const turn = Math.abs(s.sweep);
  if (turn >= FULL) return true;
  const sign = s.sweep < 0 ? -1 : 1;
  const px = x - s.centre.x;
  const py = y - s.centre.y;
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  const tx = s.to.x - s.centre.x;
  const ty = s.to.y - s.centre.y;
  const afterFrom = sign * (fx * py - fy * px) >= 0;
  const beforeTo = sign * (px * ty - py * tx) >= 0;
  return turn <= Math.PI ? afterFrom && beforeTo : afterFrom || beforeTo;
}

/** The length of a segment, mm; exact for arcs. */
export const segmentLength = (s: Segment): number =>
  s.kind === 'arc' ? s.radius * Math.abs(s.sweep) : Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);

/** The point of a segment at a fraction (0 its start, 1 its end) of its length. mm */
export function pointAlong(s: Segment, fraction: number): Point {
  if (fraction === 0) return s.from;
  if (fraction === 1) return s.to;
  if (s.kind === 'line')
    return {
      x: s.from.x + (s.to.x - s.from.x) * fraction,
      y: s.from.y + (s.to.y - s.from.y) * fraction,
    };
  const c = Math.cos(s.sweep * fraction);
  const d = Math.sin(s.sweep * fraction);
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  return { x: s.centre.x + fx * c - fy * d, y: s.centre.y + fx * d + fy * c };
}

/**
 * Where along a segment a point on it lies, as a fraction of its length in 0…1; a point off the segment
 * counts as the place on it that is nearest along the carrying line or circle.
 */
export function fractionAlong(s: Segment, p: Point): number {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l2 = dx * dx + dy * dy;
    return l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / l2));
  }
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  const px = p.x - s.centre.x;
  const py = p.y - s.centre.y;
  const sign = s.sweep < 0 ? -1 : 1;
  let angle = Math.atan2(sign * (fx * py - fy * px), fx * px + fy * py);
  if (angle < 0) angle += FULL;
  const turn = Math.abs(s.sweep);
  if (angle <= turn) return turn === 0 ? 0 : angle / turn;
  return angle - turn < FULL - angle ? 1 : 0;
}

/** The direction of travel at the start of a segment, a unit vector; (0, 0) for a line of no length. */
export const startDirection = (s: Segment): Point => directionAt(s, s.from);

/** The direction of travel at the end of a segment, a unit vector; (0, 0) for a line of no length. */
export const endDirection = (s: Segment): Point => directionAt(s, s.to);

/** The direction of travel where a segment passes `p`, a unit vector. */
export function directionAt(s: Segment, p: Point): Point {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l = Math.hypot(dx, dy);
    return l === 0 ? { x: 0, y: 0 } : { x: dx / l, y: dy / l };
  }
  const sign = s.sweep < 0 ? -1 : 1;
  const rx = p.x - s.centre.x;
  const ry = p.y - s.centre.y;
  const l = Math.hypot(rx, ry);
  return l === 0 ? { x: 0, y: 0 } : { x: (-sign * ry) / l + 0, y: (sign * rx) / l + 0 };
}

/** Signed curvature along the travel, 1/mm: positive turning left, 0 for a line. */
export const curvature = (s: Segment): number => (s.kind === 'line' ? 0 : Math.sign(s.sweep) / s.radius);

/**
 * The signed angle from the end of `before` to the start of `after` in radians, (−π, π], positive to the
 * left. Where the curve turns right back (a cusp), the curvatures say to which side.
 */
export function turnBetween(before: Segment, after: Segment): number {
  const a = endDirection(before);
  const b = startDirection(after);
  const cross = a.x * b.y - a.y * b.x;
  const dot = a.x * b.x + a.y * b.y;
  if (dot < 0 && Math.abs(cross) < CUSP) return curvature(after) > -curvature(before) ? -Math.PI : Math.PI;
  return Math.atan2(cross, dot);
}

/** Below this sine a half turn's side is decided by curvature: directions are good to about 1e-12. */
const CUSP = 1e-9;

/** The same stretch walked the other way, its tag kept. */
export const reverseSegment = (s: Segment): Segment =>
  s.kind === 'line' ? { ...s, from: s.to, to: s.from } : { ...s, from: s.to, to: s.from, sweep: -s.sweep };
