import type { Bed } from '../bed.js';
import type { Wares } from './variant.js';

function gcd(a: number, b: number): number {
  let [p, q] = [Math.abs(a), Math.abs(b)];
  while (q > 0) [p, q] = [q, p % q];
  return p;
}

/** The greatest whole number of which all of these are multiples; at least 1. */
export const unitOf = (numbers: readonly number[]): number => Math.max(1, numbers.reduce(gcd, 0));

/**
 * The greatest distance of which all coordinates of all shapes and beds are multiples, steps: where outlines are
 * drawn in whole units, tight fits are found on it.
 */
export function latticeOf(wares: Wares, beds: readonly Bed[]): number {
  let unit = 0;
  const take = (v: number): void => {
    unit = gcd(unit, v);
  };
  for (const s of wares.shapes) {
    for (const p of s.grown) p.forEach(take);
    take(s.width);
    take(s.height);
  }
  for (const b of beds) b.usable.forEach(take);
  return Math.max(1, unit);
}
