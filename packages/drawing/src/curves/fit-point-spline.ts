import type { Point } from '@haunch/geometry';
import type { SplineEntity } from '../drawing.js';

type SplineShape = Pick<SplineEntity, 'degree' | 'controls' | 'knots'>;

/**
 * A cubic B-spline through points, twice continuously differentiable over the chord lengths between them (de Boor,
 * A Practical Guide to Splines, ch. IV; from memory). End directions are taken where given; else the ends are
 * free of bending, or of one piece where the curve is closed. Null where fewer than two points differ.
 */
export function splineThrough(
  given: readonly Point[],
  closed: boolean,
  startDirection: Point | null,
  endDirection: Point | null,
): SplineShape | null {
  const points = given.filter((p, i) => i === 0 || p.x !== given[i - 1]!.x || p.y !== given[i - 1]!.y);
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 2) return null;
  if (closed && (first.x !== last.x || first.y !== last.y)) points.push(first);
  const h = points.slice(1).map((p, i) => Math.hypot(p.x - points[i]!.x, p.y - points[i]!.y));
  const periodic = closed && points.length > 3 && startDirection === null;
  const slopesOf = (axis: 'x' | 'y'): number[] => {
    const y = points.map((p) => p[axis]);
    return periodic
      ? periodicSlopes(y, h)
      : slopes(y, h, along(startDirection, axis), along(endDirection, axis));
  };
  const [mx, my] = [slopesOf('x'), slopesOf('y')];
  const controls = [{ ...first, weight: 1 }];
  const knots = [0, 0, 0, 0];
  let t = 0;
  h.forEach((step, i) => {
    const [a, b] = [points[i]!, points[i + 1]!];
    controls.push(
      { x: a.x + (mx[i]! * step) / 3, y: a.y + (my[i]! * step) / 3, weight: 1 },
      { x: b.x - (mx[i + 1]! * step) / 3, y: b.y - (my[i + 1]! * step) / 3, weight: 1 },
      { x: b.x, y: b.y, weight: 1 },
    );
    t += step;
    knots.push(t, t, t);
  });
  knots.push(t);
  return { degree: 3, controls, knots };
}

/** The component of a direction, its length made 1; null where there is none. */
function along(d: Point | null, axis: 'x' | 'y'): number | null {
  const l = d === null ? 0 : Math.hypot(d.x, d.y);
  return d === null || !(l > 0) ? null : d[axis] / l;
}

/** First derivatives at the points; a null end is free of bending. */
function slopes(
  y: readonly number[],
  h: readonly number[],
  start: number | null,
  end: number | null,
): number[] {
  const n = y.length;
  const [lower, diagonal, upper, right] = [zeros(n), zeros(n), zeros(n), zeros(n)];
  for (let i = 1; i < n - 1; i++) {
    lower[i] = h[i]!;
    diagonal[i] = 2 * (h[i - 1]! + h[i]!);
    upper[i] = h[i - 1]!;
    right[i] = 3 * ((h[i]! * (y[i]! - y[i - 1]!)) / h[i - 1]! + (h[i - 1]! * (y[i + 1]! - y[i]!)) / h[i]!);
  }
  diagonal[0] = start === null ? 2 : 1;
  upper[0] = start === null ? 1 : 0;
  right[0] = start ?? (3 * (y[1]! - y[0]!)) / h[0]!;
  diagonal[n - 1] = end === null ? 2 : 1;
  lower[n - 1] = end === null ? 1 : 0;
  right[n - 1] = end ?? (3 * (y[n - 1]! - y[n - 2]!)) / h[n - 2]!;
  return solve(lower, diagonal, upper, right);
}

/** First derivatives of a curve whose last point is its first: the corners of the matrix by Sherman and Morrison. */
function periodicSlopes(y: readonly number[], h: readonly number[]): number[] {
  const n = y.length - 1;
  const [lower, diagonal, upper, right] = [zeros(n), zeros(n), zeros(n), zeros(n)];
  for (let i = 0; i < n; i++) {
    const before = h[(i + n - 1) % n]!;
    const after = h[i]!;
    const rise = (y[i]! - y[(i + n - 1) % n]!) / before;
    const next = (y[i + 1]! - y[i]!) / after;
    lower[i] = after;
    diagonal[i] = 2 * (before + after);
    upper[i] = before;
    right[i] = 3 * (after * rise + before * next);
  }
  const [corner, other] = [lower[0]!, upper[n - 1]!];
  const gamma = -diagonal[0]!;
  diagonal[0]! -= gamma;
  diagonal[n - 1]! -= (corner * other) / gamma;
  const u = zeros(n);
  u[0] = gamma;
  u[n - 1] = other;
  const x = solve(lower, [...diagonal], upper, right);
  const z = solve(lower, [...diagonal], upper, u);
  const k = (x[0]! + (corner * x[n - 1]!) / gamma) / (1 + z[0]! + (corner * z[n - 1]!) / gamma);
  const m = x.map((v, i) => v - k * z[i]!);
  return [...m, m[0]!];
}

const zeros = (n: number): number[] => new Array<number>(n).fill(0);

/** Solves a system of three diagonals, which here is always diagonally dominant (Thomas). */
function solve(
  lower: readonly number[],
  diagonal: readonly number[],
  upper: readonly number[],
  right: readonly number[],
): number[] {
  const n = right.length;
  const [c, d] = [zeros(n), zeros(n)];
  for (let i = 0; i < n; i++) {
    const below = i === 0 ? 0 : lower[i]!;
    const pivot = diagonal[i]! - below * (c[i - 1] ?? 0);
    c[i] = upper[i]! / pivot;
    d[i] = (right[i]! - below * (d[i - 1] ?? 0)) / pivot;
  }
  for (let i = n - 2; i >= 0; i--) d[i]! -= c[i]! * d[i + 1]!;
  return d;
}
