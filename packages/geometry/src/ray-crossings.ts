import type { Point } from './point.js';
import type { ArcSegment, Segment } from './ring.js';
import { arcHolds } from './segment-course.js';

/** Ends nearer than this share of the radius to a top are it: rounding, far below the grid. */
const SAME = 1e-12;

/**
 * How often a segment passes the ray from `p` to +x, upwards counted +1 and downwards −1. The sum over closed
 * curves is how often they wind round `p`, whatever corners and tops lie level with it.
 */
export const rayCrossings = (s: Segment, p: Point): number =>
  s.kind === 'line' ? crossing(s.from, s.to, p, lineX(s.from, s.to, p.y)) : arcCrossings(s, p);

const lineX = (a: Point, b: Point, y: number): number => a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y);

/**
 * +1 where a stretch that only rises passes the ray from `p` to +x, −1 where one that only falls does. The
 * lower end belongs to a stretch and the upper does not, so that each passage counts once.
 */
function crossing(from: Point, to: Point, p: Point, x: number): number {
  if (from.y <= p.y && to.y > p.y) return x > p.x ? 1 : 0;
  if (from.y > p.y && to.y <= p.y) return x > p.x ? -1 : 0;
  return 0;
}

/** The crossings of an arc, split at its highest and lowest points into stretches that only rise or fall. */
function arcCrossings(s: ArcSegment, p: Point): number {
  const { centre: c, radius: r, from, to } = s;
  const left = s.sweep > 0;
  const top = { x: c.x, y: c.y + r };
  const bottom = { x: c.x, y: c.y - r };
  // Turning left, the right half rises; turning right, it falls.
  const onRight = from.x > c.x || (from.x === c.x && from.y < c.y === left);
  const [first, second] = onRight === left ? [top, bottom] : [bottom, top];
  const half = Math.sqrt(Math.max(0, r * r - (p.y - c.y) * (p.y - c.y)));
  const pass = (a: Point, b: Point): number =>
    crossing(a, b, p, b.y > a.y === left ? c.x + half : c.x - half);
  // An arc that ends in its highest or lowest point does not go past it: counted twice, a half circle would wind round twice.
  const ends = (q: Point): boolean => Math.abs(q.x - to.x) + Math.abs(q.y - to.y) <= SAME * (1 + r);
  if (ends(first) || !arcHolds(s, first.x, first.y)) return pass(from, to);
  if (ends(second) || !arcHolds(s, second.x, second.y)) return pass(from, first) + pass(first, to);
  return pass(from, first) + pass(first, second) + pass(second, to);
}
