/** A direction on the grid, steps; not zero. */
export interface Direction {
  readonly x: number;
  readonly y: number;
}

/** Above 0 where `b` is counter-clockwise of `a` by less than half a turn. Exact on the grid. */
export const turnTo = (a: Direction, b: Direction): number => a.x * b.y - a.y * b.x;

/** Whether two directions are the same, whatever their lengths. */
export const sameDirection = (a: Direction, b: Direction): boolean =>
  turnTo(a, b) === 0 && a.x * b.x + a.y * b.y > 0;

const half = (d: Direction): number => (d.y > 0 || (d.y === 0 && d.x > 0) ? 0 : 1);

/** Orders directions counter-clockwise from that of x. */
export const byAngle = (a: Direction, b: Direction): number => half(a) - half(b) || -turnTo(a, b);

/** Whether `d` lies within the turn counter-clockwise from `from` to `to`, which is at most half a turn; its ends count. */
export const isWithinTurn = (d: Direction, from: Direction, to: Direction): boolean =>
  (turnTo(from, d) > 0 && turnTo(d, to) >= 0) ||
  sameDirection(d, to) ||
  (turnTo(from, to) === 0 && turnTo(from, d) > 0);

function gcd(a: number, b: number): number {
  let [p, q] = [Math.abs(a), Math.abs(b)];
  while (q > 0) [p, q] = [q, p % q];
  return p;
}

/** The same for all directions that are the same. */
export function nameOf(d: Direction): string {
  const g = gcd(d.x, d.y);
  return `${d.x / g},${d.y / g}`;
}
