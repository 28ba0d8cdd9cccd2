import { bisect } from './bisect.js';
import { incompleteGamma } from './incomplete-gamma.js';

/** Density of the standard normal distribution. */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Φ(z): probability that a standard normal value is at most z; good in the tails to 1e-13 relative below −1. */
export function normalCdf(z: number): number {
  if (z === 0) return 0.5;
  if (Math.abs(z) > 38) return z > 0 ? 1 : 0;
  return z > 0 ? 0.5 + incompleteGamma(0.5, (z * z) / 2) / 2 : upperTail(-z);
}

/** 1 − Φ(z) for z > 0: by the complement near 0, by Laplace's continued fraction beyond. */
function upperTail(z: number): number {
  if (z < 2) return 0.5 - incompleteGamma(0.5, (z * z) / 2) / 2;
  let value = z;
  for (let k = 120; k >= 1; k--) value = z + k / value;
  return normalDensity(z) / value;
}

/**
 * The value that a standard normal variable does not exceed with probability p.
 * @throws RangeError when p is not strictly between 0 and 1.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`normalQuantile: ${p} is not between 0 and 1`);
  return p === 0.5 ? 0 : bisect(normalCdf, p, -38, 38);
}
