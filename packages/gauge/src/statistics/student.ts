import { bisect } from './bisect.js';
import { incompleteBeta } from './incomplete-beta.js';

/**
 * Probability that Student's t with these degrees of freedom (any positive number) is at most t.
 * @throws RangeError when the degrees of freedom are not positive.
 */
export function studentCdf(t: number, degrees: number): number {
  if (!(degrees > 0)) throw new RangeError(`studentCdf: ${degrees} degrees of freedom`);
  // For |t| small against the degrees the other argument of the beta function keeps its digits.
  const square = t * t;
  const tail =
    square < degrees
      ? 0.5 - incompleteBeta(0.5, degrees / 2, square / (degrees + square)) / 2
      : incompleteBeta(degrees / 2, 0.5, degrees / (degrees + square)) / 2;
  return t > 0 ? 1 - tail : tail;
}

/**
 * The value that Student's t does not exceed with probability p.
 * @throws RangeError when p is not strictly between 0 and 1.
 */
export function studentQuantile(p: number, degrees: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`studentQuantile: ${p} is not between 0 and 1`);
  if (p === 0.5) return 0;
  if (p < 0.5) return -studentQuantile(1 - p, degrees);
  let high = 2;
  while (studentCdf(high, degrees) < p && high < 1e300) high *= 2;
  return bisect((t) => studentCdf(t, degrees), p, 0, high);
}

/** How many standard uncertainties an interval that holds the value with this probability reaches to each side. */
export const coverageFactor = (level: number, degrees: number): number =>
  studentQuantile((1 + level) / 2, degrees);
