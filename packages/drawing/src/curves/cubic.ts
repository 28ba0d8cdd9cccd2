import type { Point } from '@haunch/geometry';

/** A cubic Bézier curve by its four control points. */
export type Cubic = readonly [Point, Point, Point, Point];

export const between = (a: Point, b: Point, t: number): Point => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
});

/** The two parts of a cubic before and after `t` (de Casteljau). */
export function splitCubic([a, b, c, d]: Cubic, t: number): readonly [Cubic, Cubic] {
  const [ab, bc, cd] = [between(a, b, t), between(b, c, t), between(c, d, t)];
  const [abc, bcd] = [between(ab, bc, t), between(bc, cd, t)];
  const at = between(abc, bcd, t);
  return [
    [a, ab, abc, at],
    [at, bcd, cd, d],
  ];
}

export const cubicAt = (c: Cubic, t: number): Point => splitCubic(c, t)[1][0];

/** The cubic that runs as a quadratic Bézier curve does, exactly. */
export const cubicOfQuadratic = (a: Point, b: Point, c: Point): Cubic => [
  a,
  between(a, b, 2 / 3),
  between(c, b, 2 / 3),
  c,
];

/** Directions of the control polygon's legs, those of no length left out. */
export function legsOf([a, b, c, d]: Cubic): Point[] {
  const legs = [
    { x: b.x - a.x, y: b.y - a.y },
    { x: c.x - b.x, y: c.y - b.y },
    { x: d.x - c.x, y: d.y - c.y },
  ];
  return legs.filter((l) => l.x !== 0 || l.y !== 0);
}

/**
 * Whether every point of a cubic lies within `within` of the circle round `centre` through its first point.
 * |P − C|² − r² is a polynomial of degree 6, and none of its values is beyond its Bernstein coefficients
 * (the convex hull property), so that a yes is certain.
 */
export function cubicOnCircle(cubic: Cubic, centre: Point, radius: number, within: number): boolean {
  const [first] = cubic;
  const fx = first.x - centre.x;
  const fy = first.y - centre.y;
  // If |q| ≤ w (2r − w), then r − w ≤ |P − C| ≤ r + w, as |P − C| = √(r² + q).
  const most = within * (2 * radius - within);
  if (!(most > 0)) return false;
  const offset = fx * fx + fy * fy - radius * radius;
  // Most curves that are not near the circle are refused by their own points, before anything is divided.
  for (const t of [0.25, 0.75, 1]) {
    const [x, y] = [along(cubic, t, 'x') - centre.x, along(cubic, t, 'y') - centre.y];
    if (!(Math.abs(x * x + y * y - radius * radius) <= 2 * most)) return false;
  }
  for (const piece of quarters(cubic)) {
    const px = piece.map((p) => p.x - first.x);
    const py = piece.map((p) => p.y - first.y);
    for (let k = 0; k <= 6; k++) {
      let q = offset;
      for (let i = Math.max(0, k - 3); i <= Math.min(3, k); i++) {
        const j = k - i;
        const weight = (CHOOSE3[i]! * CHOOSE3[j]!) / CHOOSE6[k]!;
        q += weight * (px[i]! * px[j]! + py[i]! * py[j]! + 2 * (px[i]! * fx + py[i]! * fy));
      }
      if (!(Math.abs(q) <= most)) return false;
    }
  }
  return true;
}

function along([a, b, c, d]: Cubic, t: number, axis: 'x' | 'y'): number {
  const r = 1 - t;
  return r * r * (r * a[axis] + 3 * t * b[axis]) + t * t * (3 * r * c[axis] + t * d[axis]);
}

const CHOOSE3 = [1, 3, 3, 1] as const;
const CHOOSE6 = [1, 6, 15, 20, 15, 6, 1] as const;

function quarters(c: Cubic): Cubic[] {
  const [a, b] = splitCubic(c, 0.5);
  return [...splitCubic(a, 0.5), ...splitCubic(b, 0.5)];
}
