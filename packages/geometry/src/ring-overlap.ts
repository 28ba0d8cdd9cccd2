import { widenBox } from './box-index.js';
import type { Point } from './point.js';
import type { Ring } from './ring.js';
import { ringArea } from './ring-area.js';
import { pointInRing } from './ring-contains.js';
import { curveOfRing } from './ring-curve.js';
import { directionAt, fractionAlong, pointAlong, segmentLength } from './segment-course.js';
import { segmentIntersections, TOUCH } from './segment-intersections.js';
import { GRID } from './snap.js';

/**
 * Whether the area of `a` lies wholly in the area of `b`; the curves may touch, and may stand out by half a
 * grid step (0.00005 mm). Both must be simple rings; how they run does not matter.
 */
export function ringInside(a: Ring, b: Ring): boolean {
  const one = curveOfRing(a).bounds;
  const two = curveOfRing(b).bounds;
  if (one.minX < two.minX - GRID || one.maxX > two.maxX + GRID) return false;
  if (one.minY < two.minY - GRID || one.maxY > two.maxY + GRID) return false;
  return middlesBetween(a, b, (p) => pointInRing(b, p) !== 'outside');
}

/**
 * Whether the areas of two rings have a part in common; touching is none, nor is overlapping by less than
 * half a grid step (0.00005 mm). Both must be simple rings; how they run does not matter.
 */
export function ringsOverlap(a: Ring, b: Ring): boolean {
  const one = curveOfRing(a).bounds;
  const two = curveOfRing(b).bounds;
  if (one.minX > two.maxX || two.minX > one.maxX || one.minY > two.maxY || two.minY > one.maxY) return false;
  if (!middlesBetween(a, b, (p) => pointInRing(b, p) !== 'inside')) return true;
  if (!middlesBetween(b, a, (p) => pointInRing(a, p) !== 'inside')) return true;
  // No curve enters the other's area: the areas are apart, or one and the same.
  const within = pointWithin(a);
  return within !== undefined && pointInRing(b, within) === 'inside';
}

/** Whether something holds for the middle of every stretch of `a` between the places where it meets `b`. */
function middlesBetween(a: Ring, b: Ring, holds: (p: Point) => boolean): boolean {
  const one = curveOfRing(a);
  const two = curveOfRing(b);
  for (let i = 0; i < one.segments.length; i++) {
    const s = one.segments[i]!;
    const cuts = [0, 1];
    two.index.search(widenBox(one.boxes[i]!, TOUCH), (j) => {
      for (const p of segmentIntersections(s, two.segments[j]!)) cuts.push(fractionAlong(s, p));
      return false;
    });
    cuts.sort((x, y) => x - y);
    for (let k = 1; k < cuts.length; k++) {
      const from = cuts[k - 1]!;
      const to = cuts[k]!;
      if ((to - from) * segmentLength(s) > TOUCH && !holds(pointAlong(s, (from + to) / 2))) return false;
    }
  }
  return true;
}

/** A point in the area of a ring, a little beside the middle of one of its segments. */
function pointWithin(r: Ring): Point | undefined {
  const { segments } = curveOfRing(r);
  const side = ringArea(r) > 0 ? 1 : -1;
  for (let step = 1; step >= 2 * GRID; step /= 8)
    for (const s of segments) {
      const p = pointAlong(s, 0.5);
      const d = directionAt(s, p);
      const q = { x: p.x - side * d.y * step, y: p.y + side * d.x * step };
      if (pointInRing(r, q) === 'inside') return q;
    }
  return undefined;
}
