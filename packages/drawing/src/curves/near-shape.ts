import type { Point } from '@haunch/geometry';
import { type Bernstein, combine, product } from './bernstein.js';
import { type BezierPiece, halves } from './spline-pieces.js';

/** So often a piece is halved before a bound that its coefficients do not show is given up. */
const HALVINGS = 5;

/**
 * Whether a piece goes forward all the way in the direction `u` (of length 1) and stays within `within` of the
 * line through `from`. A yes is certain: no value of a polynomial is beyond its Bernstein coefficients.
 */
export function nearLine(p: BezierPiece, from: Point, u: Point, within: number): boolean {
  const forward = combine(u.x, p.dx, u.y, p.dy);
  if (forward.some((v) => v < 0)) return false;
  const k = from.x * u.y - from.y * u.x;
  return p.w.every((w, i) => Math.abs(p.x[i]! * u.y - p.y[i]! * u.x - k * w) <= within * w);
}

/**
 * Whether a piece turns one way round a centre (`side` 1 counter-clockwise) and stays within `within` of the circle.
 * With U = x − cₓw and V = y − c_yw both are polynomials: U² + V² against (r ± within)²w², and the sign of
 * UV′ − VU′. A yes is certain.
 */
export function nearCircle(
  p: BezierPiece,
  centre: Point,
  radius: number,
  side: number,
  within: number,
  halvings: number = HALVINGS,
): boolean {
  if (!(radius > within)) return false;
  const u = combine(1, p.x, -centre.x, p.w);
  const v = combine(1, p.y, -centre.y, p.w);
  const n = p.w.length - 1;
  // The ends are on the curve, so that a no there is a no at once.
  for (const i of [0, n])
    if (Math.abs(Math.hypot(u[i]!, v[i]!) - radius * p.w[i]!) > within * p.w[i]!) return false;
  const squares = combine(1, product(u, u), 1, product(v, v));
  const weights = product(p.w, p.w);
  const most = (radius + within) ** 2;
  const least = (radius - within) ** 2;
  const near = squares.every((s, i) => s <= most * weights[i]! && s >= least * weights[i]!);
  if (near && turns(p, u, v, side)) return true;
  if (halvings === 0) return false;
  return halves(p).every((h) => nearCircle(h, centre, radius, side, within, halvings - 1));
}

function turns(p: BezierPiece, u: Bernstein, v: Bernstein, side: number): boolean {
  // dx, dy are the direction of travel, so that U·dy − V·dx has the sign of UV′ − VU′.
  return combine(side, product(u, p.dy), -side, product(v, p.dx)).every((c) => c >= 0);
}
