import type { Point } from '@haunch/geometry';

const side = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);

const signedArea = (polygon: readonly Point[]): number =>
  polygon.reduce((sum, p, i) => {
    const q = polygon[(i + 1) % polygon.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);

const counterClockwise = (polygon: readonly Point[]): readonly Point[] =>
  signedArea(polygon) < 0 ? [...polygon].reverse() : polygon;

/** The part of a polygon on the left of the line from `a` to `b`. */
function leftOf(polygon: readonly Point[], a: Point, b: Point): Point[] {
  const out: Point[] = [];
  polygon.forEach((p, i) => {
    const q = polygon[(i + 1) % polygon.length]!;
    const sp = side(a, b, p);
    const sq = side(a, b, q);
    if (sp >= 0) out.push(p);
    if (sp * sq < 0) {
      const t = sp / (sp - sq);
      out.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) });
    }
  });
  return out;
}

/**
 * The part of any simple polygon inside a convex window (Sutherland and Hodgman 1974). Where the polygon is
 * concave the result may run along the window's border and back, which encloses no area.
 */
export function clipToWindow(polygon: readonly Point[], window: readonly Point[]): readonly Point[] {
  const w = counterClockwise(window);
  let out: readonly Point[] = polygon;
  for (let i = 0; i < w.length && out.length > 0; i++) out = leftOf(out, w[i]!, w[(i + 1) % w.length]!);
  return out;
}

/** A flat area: a polygon less the voids in it. */
export interface Area {
  readonly outer: readonly Point[];
  readonly voids: readonly (readonly Point[])[];
}

/** How much of an area lies in a convex window, mm². Voids must be inside the outer polygon and apart. */
export function areaInWindow(area: Area, window: readonly Point[]): number {
  const within = (polygon: readonly Point[]) => Math.abs(signedArea(clipToWindow(polygon, window)));
  return within(area.outer) - area.voids.reduce((sum, v) => sum + within(v), 0);
}
