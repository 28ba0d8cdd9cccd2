import { logGamma } from './log-gamma.js';

/** Steps of the continued fraction after which it has long converged for any arguments met here. */
const MOST_STEPS = 10_000;
const TINY = 1e-300;

/** The continued fraction of the incomplete beta function by Lentz's method (Abramowitz and Stegun 26.5.8). */
function fraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m <= MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    const step = d * c;
    value *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return value;
}

const nonZero = (v: number): number => (Math.abs(v) < TINY ? TINY : v);

/**
 * The regularised incomplete beta function Iₓ(a, b), for 0 ≤ x ≤ 1 and a, b > 0.
 * @throws RangeError outside that range.
 */
export function incompleteBeta(a: number, b: number, x: number): number {
  if (!(x >= 0 && x <= 1)) throw new RangeError(`incompleteBeta: ${x} is not between 0 and 1`);
  if (x === 0 || x === 1) return x;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return x < (a + 1) / (a + b + 2)
    ? (front * fraction(a, b, x)) / a
    : 1 - (front * fraction(b, a, 1 - x)) / b;
}
