import { distance, type Point } from './point.js';
import type { ArcSegment, LineSegment, Segment } from './ring.js';
import { arcHolds } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';

/**
 * Curves nearer than this touch, mm: a thousandth of the 0.0001 mm grid, and some ten thousand times the
 * rounding of a computed crossing at the size of a sheet.
 */
export const TOUCH = 1e-7;

/** A line or circle that misses or cuts another by less than this is tangent to it, mm: rounding only. */
const TANGENT = 1e-9;

/** Lines whose directions differ by less than this sine are parallel: rounding of unit vectors, times 100. */
const PARALLEL = 1e-13;

/**
 * Where two segments meet. Touching ends count, within 0.0000001 mm, and are given as the end point itself;
 * segments that run over each other give the ends of the common stretch. Points are mm, at most four, none
 * twice. The crossing of two lines is the exact rounding of each axis-parallel coordinate.
 */
export function segmentIntersections(a: Segment, b: Segment): Point[] {
  const found: Point[] = [];
  touchingEnd(a.from, b, found);
  touchingEnd(a.to, b, found);
  touchingEnd(b.from, a, found);
  touchingEnd(b.to, a, found);
  // Two lines that meet twice run over each other, and so do arcs of one circle: there is no crossing.
  if (a.kind === 'line' && b.kind === 'line' && found.length >= 2) return found;
  for (const p of carrierMeets(a, b)) if (spans(a, p) && spans(b, p)) addPoint(p, found);
  return found;
}

/**
 * Where the infinite lines or full circles that carry two segments meet: none, one (crossing lines, tangency)
 * or two points, mm. Parallel lines, and lines or circles that are one and the same, give none.
 */
export function carrierMeets(a: Segment, b: Segment): Point[] {
  if (a.kind === 'line') return b.kind === 'line' ? lineLine(a, b) : lineCircle(a, b);
  return b.kind === 'line' ? lineCircle(b, a) : circleCircle(a, b);
}

function touchingEnd(end: Point, s: Segment, found: Point[]): void {
  if (pointSegmentDistance(s, end) <= TOUCH) addPoint(end, found);
}

function addPoint(p: Point, found: Point[]): void {
  for (const q of found) if (distance(p, q) <= TOUCH) return;
  found.push(p);
}

/** Whether a point of the carrier lies on the segment, ends included as exactly as doubles allow. */
function spans(s: Segment, p: Point): boolean {
  if (s.kind === 'arc') return arcHolds(s, p.x, p.y);
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const t = (p.x - s.from.x) * dx + (p.y - s.from.y) * dy;
  return t >= 0 && t <= dx * dx + dy * dy;
}

function lineLine(a: LineSegment, b: LineSegment): Point[] {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) <= PARALLEL * Math.hypot(ax, ay) * Math.hypot(bx, by)) return [];
  const t = ((b.from.x - a.from.x) * by - (b.from.y - a.from.y) * bx) / cross;
  return [
    {
      x: ax === 0 ? a.from.x : bx === 0 ? b.from.x : a.from.x + t * ax,
      y: ay === 0 ? a.from.y : by === 0 ? b.from.y : a.from.y + t * ay,
    },
  ];
}

function lineCircle(l: LineSegment, c: ArcSegment): Point[] {
  const dx = l.to.x - l.from.x;
  const dy = l.to.y - l.from.y;
  const length = Math.hypot(dx, dy);
  if (length === 0) return [];
  const ux = dx / length;
  const uy = dy / length;
  const rx = c.centre.x - l.from.x;
  const ry = c.centre.y - l.from.y;
  const along = rx * ux + ry * uy;
  const off = Math.abs(rx * uy - ry * ux);
  const at = (t: number): Point => ({
    x: ux === 0 ? l.from.x : l.from.x + t * ux,
    y: uy === 0 ? l.from.y : l.from.y + t * uy,
  });
  if (off > c.radius + TOUCH) return [];
  if (off >= c.radius - TANGENT) return [at(along)];
  const half = Math.sqrt((c.radius - off) * (c.radius + off));
  return [at(along - half), at(along + half)];
}

function circleCircle(s: ArcSegment, t: ArcSegment): Point[] {
  // From the smaller circle: from the larger, the half chord would drown in the rounding of its radius.
  const [a, b] = s.radius <= t.radius ? [s, t] : [t, s];
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const d = Math.hypot(dx, dy);
  const sum = a.radius + b.radius;
  const difference = b.radius - a.radius;
  if (d <= TANGENT || (d <= TOUCH && difference <= TOUCH)) return [];
  if (d > sum + TOUCH || d < difference - TOUCH) return [];
  const ux = dx / d;
  const uy = dy / d;
  // Where the common chord stands on the line of centres: (d² + a² − b²)/(2 d), without losing small parts.
  let along = ((d - b.radius) * (d + b.radius) + a.radius * a.radius) / (2 * d);
  if (d >= sum - TANGENT) along = a.radius;
  else if (d <= difference + TANGENT) along = -a.radius;
  const half = Math.sqrt(Math.max(0, (a.radius - along) * (a.radius + along)));
  const mx = a.centre.x + along * ux;
  const my = a.centre.y + along * uy;
  if (half === 0) return [{ x: mx, y: my }];
  return [
    { x: mx + half * uy, y: my - half * ux },
    { x: mx - half * uy, y: my + half * ux },
  ];
}
