import { bisect } from './bisect.js';
import { incompleteGamma } from './incomplete-gamma.js';
import { normalCdf, normalDensity, normalQuantile } from './normal.js';

/** Probability that chi-square with these degrees of freedom is at most x. */
export const chiSquareCdf = (x: number, degrees: number): number => incompleteGamma(degrees / 2, x / 2);

/** The value that chi-square does not exceed with probability p. */
export function chiSquareQuantile(p: number, degrees: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`chiSquareQuantile: ${p} is not between 0 and 1`);
  let high = degrees + 10;
  while (chiSquareCdf(high, degrees) < p) high *= 2;
  return bisect((x) => chiSquareCdf(x, degrees), p, 0, high);
}

/** Half the width about `shift` that holds the share `content` of a standard normal population. */
function halfWidth(shift: number, content: number): number {
  const held = (r: number): number => normalCdf(shift + r) - normalCdf(shift - r);
  return bisect(held, content, 0, Math.abs(shift) + 10);
}

/** Panels of Simpson's rule over the mean's distribution, to eight standard deviations: error below 1e-9. */
const PANELS = 200;
const REACH = 8;

/**
 * The factor k such that mean ± k·s of a normal sample of n readings holds at least the share `content` of the
 * population with this confidence (two-sided, exact by integration over the sample mean; definition as in the
 * NIST/SEMATECH e-Handbook 7.2.6.3 and ISO 16269-6).
 * @throws RangeError for fewer than 2 readings or shares outside (0, 1).
 */
export function toleranceFactor(n: number, content = 0.95, confidence = 0.95): number {
  if (!(n >= 2)) throw new RangeError(`toleranceFactor: ${n} readings are too few`);
  const degrees = n - 1;
  // The half widths wanted do not depend on k: worked out once for each node.
  const nodes = Array.from({ length: PANELS + 1 }, (_, i) => {
    const z = (REACH * i) / PANELS;
    const weight = (i === 0 || i === PANELS ? 1 : i % 2 === 1 ? 4 : 2) * (REACH / PANELS / 3);
    return { weight: 2 * weight * normalDensity(z), r: halfWidth(z / Math.sqrt(n), content) };
  });
  const reached = (k: number): number =>
    nodes.reduce(
      (sum, { weight, r }) => sum + weight * (1 - chiSquareCdf((degrees * r * r) / (k * k), degrees)),
      0,
    );
  let high = 4;
  while (reached(high) < confidence) high *= 2;
  return bisect(reached, confidence, 0, high);
}

/** Howe's approximation of the same factor (W. G. Howe 1969, as in the NIST/SEMATECH e-Handbook 7.2.6.3). */
export function howeToleranceFactor(n: number, content = 0.95, confidence = 0.95): number {
  const z = normalQuantile((1 + content) / 2);
  return z * Math.sqrt(((n - 1) * (1 + 1 / n)) / chiSquareQuantile(1 - confidence, n - 1));
}
