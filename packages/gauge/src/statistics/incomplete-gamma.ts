import { logGamma } from './log-gamma.js';

const MOST_STEPS = 100_000;

/** The series of P(a, x), good for x < a + 1 (Abramowitz and Stegun 6.5.29). */
function series(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n <= MOST_STEPS && Math.abs(term) > Math.abs(sum) * 1e-16; n++) {
    term *= x / (a + n);
    sum += term;
  }
  return sum * Math.exp(-x + a * Math.log(x) - logGamma(a));
}

/** The continued fraction of Q(a, x), good for x ≥ a + 1 (Abramowitz and Stegun 6.5.31), by Lentz's method. */
function fraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let value = d;
  for (let i = 1; i <= MOST_STEPS; i++) {
    const an = -i * (i - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    const step = d * c;
    value *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return Math.exp(-x + a * Math.log(x) - logGamma(a)) * value;
}

/**
 * The regularised lower incomplete gamma function P(a, x), for a > 0 and x ≥ 0.
 * @throws RangeError outside that range.
 */
export function incompleteGamma(a: number, x: number): number {
  if (!(a > 0 && x >= 0)) throw new RangeError(`incompleteGamma: (${a}, ${x}) is outside its range`);
  if (x === 0) return 0;
  return x < a + 1 ? series(a, x) : 1 - fraction(a, x);
}
