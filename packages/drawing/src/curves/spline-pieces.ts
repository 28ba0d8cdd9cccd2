import type { Point } from '@haunch/geometry';
import type { SplineEntity } from '../drawing.js';
import { type Bernstein, combine, derivative, divide, product, valueAt } from './bernstein.js';

/** A rational Bézier curve: (x/w, y/w), all weights positive. mm, from an origin of its own. */
export interface BezierPiece {
  readonly x: Bernstein;
  readonly y: Bernstein;
  readonly w: Bernstein;
  /** A multiple of the derivative by a positive function of the parameter: its direction is that of travel. */
  readonly dx: Bernstein;
  readonly dy: Bernstein;
}

export function bezierPiece(x: Bernstein, y: Bernstein, w: Bernstein): BezierPiece {
  const plain = w.every((v) => v === w[0]);
  // w²·(x/w)′ = x′w − xw′.
  const slope = (a: Bernstein): Bernstein =>
    plain ? derivative(a) : combine(1, product(derivative(a), w), -1, product(a, derivative(w)));
  return { x, y, w, dx: slope(x), dy: slope(y) };
}

export function pieceAt(p: BezierPiece, t: number): Point {
  const w = valueAt(p.w, t);
  return { x: valueAt(p.x, t) / w, y: valueAt(p.y, t) / w };
}

export const pieceSlope = (p: BezierPiece, t: number): Point => ({
  x: valueAt(p.dx, t),
  y: valueAt(p.dy, t),
});

export function halves(p: BezierPiece): readonly [BezierPiece, BezierPiece] {
  const [x, y, w] = [divide(p.x, 0.5), divide(p.y, 0.5), divide(p.w, 0.5)];
  return [bezierPiece(x[0], y[0], w[0]), bezierPiece(x[1], y[1], w[1])];
}

/**
 * The rational Bézier curves that a spline is made of, one for each stretch between different knots, all from one
 * origin: control points by the polar form (Ramshaw, CAGD 6, 1989; Piegl and Tiller, The NURBS Book, ch. 5; both
 * from memory).
 */
export function piecesOfSpline(s: Pick<SplineEntity, 'degree' | 'controls' | 'knots'>): {
  readonly origin: Point;
  readonly pieces: readonly BezierPiece[];
} {
  const { degree: p, controls, knots } = s;
  const origin = { x: controls[0]!.x, y: controls[0]!.y };
  const heaviest = controls.reduce((m, c) => Math.max(m, c.weight), 0);
  const w = controls.map((c) => c.weight / heaviest);
  const x = controls.map((c, i) => (c.x - origin.x) * w[i]!);
  const y = controls.map((c, i) => (c.y - origin.y) * w[i]!);
  const pieces: BezierPiece[] = [];
  for (let k = p; k < controls.length; k++) {
    const [a, b] = [knots[k]!, knots[k + 1]!];
    if (!(b > a)) continue;
    const of = (values: readonly number[]): number[] =>
      Array.from({ length: p + 1 }, (_, i) => polar(values, knots, k, p, a, b, i));
    pieces.push(bezierPiece(of(x), of(y), of(w)));
  }
  return { origin, pieces };
}

/** The polar form of a polynomial stretch at p − i times a and i times b: its i-th Bézier coefficient. */
function polar(
  values: readonly number[],
  knots: readonly number[],
  k: number,
  p: number,
  a: number,
  b: number,
  i: number,
): number {
  const d = values.slice(k - p, k + 1);
  for (let r = 1; r <= p; r++) {
    const t = r <= i ? b : a;
    for (let j = p; j >= r; j--) {
      const [low, high] = [knots[k - p + j]!, knots[k + 1 + j - r]!];
      const share = (t - low) / (high - low);
      d[j] = (1 - share) * d[j - 1]! + share * d[j]!;
    }
  }
  return d[p]!;
}
