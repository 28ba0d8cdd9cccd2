import type { Point } from './point.js';
import type { ArcSegment, Ring } from './ring.js';
import { curveOfRing } from './ring-curve.js';
import { arcHolds } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { GRID } from './snap.js';

/**
 * Where a point lies with respect to a ring: `on` means within half a grid step (0.00005 mm) of the curve.
 * Arcs are exact. The rule is non-zero winding; orientation does not matter.
 */
export function pointInRing(r: Ring, p: Point): 'inside' | 'outside' | 'on' {
  const { segments, boxes, bounds } = curveOfRing(r);
  const near = GRID / 2;
  if (p.x < bounds.minX - near || p.x > bounds.maxX + near) return 'outside';
  if (p.y < bounds.minY - near || p.y > bounds.maxY + near) return 'outside';
  let winding = 0;
  for (let i = 0; i < segments.length; i++) {
    const s = segments[i]!;
    const b = boxes[i]!;
    // The ray to +x passes only what reaches its height and lies to the right.
    if (p.y < b.minY - near || p.y > b.maxY + near || p.x > b.maxX + near) continue;
    if (p.x >= b.minX - near && pointSegmentDistance(s, p) <= near) return 'on';
    winding += s.kind === 'line' ? crossing(s.from, s.to, p, lineX(s.from, s.to, p.y)) : arcCrossings(s, p);
  }
  return winding !== 0 ? 'inside' : 'outside';
}

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
  if (!arcHolds(s, first.x, first.y)) return pass(from, to);
  if (!arcHolds(s, second.x, second.y)) return pass(from, first) + pass(first, to);
  return pass(from, first) + pass(first, second) + pass(second, to);
}
