import { flattenRing, type Point, type Ring } from '@haunch/geometry';

/** A rectangle [x0, y0, x1, y1], its corners in any order. mm */
export type Rectangle = readonly [number, number, number, number];

/** How finely arcs are followed, mm: a vacuum's area is not known so well. */
const FINE = 0.1;

/** The part of a polygon on one side of a line across an axis (I. E. Sutherland and G. W. Hodgman, 1974). */
function clip(polygon: readonly Point[], axis: 'x' | 'y', at: number, above: boolean): Point[] {
  const inside = (p: Point): boolean => (above ? p[axis] >= at : p[axis] <= at);
  return polygon.flatMap((p, i) => {
    const before = polygon[(i + polygon.length - 1) % polygon.length]!;
    const t = (at - before[axis]) / (p[axis] - before[axis]);
    const crossing = { x: before.x + t * (p.x - before.x), y: before.y + t * (p.y - before.y) };
    if (inside(p)) return inside(before) ? [p] : [crossing, p];
    return inside(before) ? [crossing] : [];
  });
}

const areaOf = (polygon: readonly Point[]): number =>
  Math.abs(
    polygon.reduce((sum, p, i) => {
      const q = polygon[(i + 1) % polygon.length]!;
      return sum + p.x * q.y - q.x * p.y;
    }, 0) / 2,
  );

/** How much of what a ring encloses lies over rectangles that do not overlap, mm²; where they do, no more than it encloses. */
export function areaOver(ring: Ring, rectangles: readonly Rectangle[]): number {
  const whole = flattenRing(ring, { tolerance: FINE });
  const over = rectangles.reduce((sum, [x0, y0, x1, y1]) => {
    const right = clip(clip(whole, 'x', Math.min(x0, x1), true), 'x', Math.max(x0, x1), false);
    return sum + areaOf(clip(clip(right, 'y', Math.min(y0, y1), true), 'y', Math.max(y0, y1), false));
  }, 0);
  return Math.min(areaOf(whole), over);
}
