/** A corner with whole coordinates. */
export type Whole = readonly [number, number];

/** A simple polygon, counter-clockwise, with whole coordinates small enough (below 2²⁵) that products are exact. */
export type WholePolygon = readonly Whole[];

/** Twice the signed area of the triangle a, b, c: above 0 when c lies to the left of a to b. Exact. */
export const side = (a: Whole, b: Whole, c: Whole): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Twice the area. Exact. */
export function doubleArea(p: WholePolygon): number {
  let sum = 0;
  p.forEach((a, i) => {
    const b = p[(i + 1) % p.length]!;
    sum += a[0] * b[1] - a[1] * b[0];
  });
  return sum;
}

const within = (a: Whole, b: Whole, p: Whole): boolean =>
  Math.min(a[0], b[0]) <= p[0] &&
  p[0] <= Math.max(a[0], b[0]) &&
  Math.min(a[1], b[1]) <= p[1] &&
  p[1] <= Math.max(a[1], b[1]);

/** Whether two segments have a point in common, ends included. Exact. */
export function segmentsMeet(a: Whole, b: Whole, c: Whole, d: Whole): boolean {
  const [p, q, r, s] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (((p > 0 && q < 0) || (p < 0 && q > 0)) && ((r > 0 && s < 0) || (r < 0 && s > 0))) return true;
  return (
    (p === 0 && within(a, b, c)) ||
    (q === 0 && within(a, b, d)) ||
    (r === 0 && within(c, d, a)) ||
    (s === 0 && within(c, d, b))
  );
}

/** Whether a point lies strictly inside. Exact. */
export function isInside(p: WholePolygon, at: Whole): boolean {
  let inside = false;
  for (let i = 0; i < p.length; i++) {
    const [a, b] = [p[i]!, p[(i + 1) % p.length]!];
    const s = side(a, b, at);
    if (s === 0 && within(a, b, at)) return false;
    if (a[1] > at[1] !== b[1] > at[1] && s > 0 === b[1] > a[1]) inside = !inside;
  }
  return inside;
}

/** The polygon without corners that lie straight between their neighbours. */
export const withoutStraight = (p: WholePolygon): WholePolygon =>
  p.filter((b, i) => side(p[(i + p.length - 1) % p.length]!, b, p[(i + 1) % p.length]!) !== 0);

/** Turned by quarters, counter-clockwise about the origin. Exact. */
export const quarterTurned = (p: WholePolygon, quarters: number): WholePolygon =>
  p.map(([x, y]): Whole => {
    const q = ((quarters % 4) + 4) % 4;
    return q === 0 ? [x, y] : q === 1 ? [-y, x] : q === 2 ? [-x, -y] : [y, -x];
  });

/** The corner of the smallest coordinates of its box. */
export const lowest = (p: WholePolygon): Whole => [
  Math.min(...p.map((c) => c[0])),
  Math.min(...p.map((c) => c[1])),
];
