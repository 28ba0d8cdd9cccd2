import { describe, expect, it } from 'vitest';
import { combinedUncertainty } from './combined-uncertainty.js';
import { logGamma } from './log-gamma.js';
import { normalCdf, normalQuantile } from './normal.js';
import { coverageFactor, studentCdf, studentQuantile } from './student.js';
import { howeToleranceFactor, toleranceFactor } from './tolerance-factor.js';

describe('statistics', () => {
  it('knows the factorials', () => {
    let factorial = 1;
    for (let n = 1; n < 20; n++) {
      factorial *= n;
      expect(logGamma(n + 1)).toBeCloseTo(Math.log(factorial), 11);
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 12);
  });

  it('gives Student’s two-sided 95 % factors (JCGM 100:2008, table G.2)', () => {
    for (const [degrees, t] of [
      [1, 12.7062],
      [2, 4.3027],
      [4, 2.7764],
      [7, 2.3646],
      [9, 2.2622],
      [16, 2.1199],
    ] as const)
      expect(coverageFactor(0.95, degrees)).toBeCloseTo(t, 4);
    expect(coverageFactor(0.99, 16)).toBeCloseTo(2.9208, 4);
    expect(coverageFactor(0.95, 1e7)).toBeCloseTo(normalQuantile(0.975), 5);
  });

  it('turns quantile and probability into each other', () => {
    for (const degrees of [0.7, 1, 3.3, 30, 400])
      for (const p of [0.001, 0.02, 0.3, 0.5, 0.77, 0.999])
        expect(studentCdf(studentQuantile(p, degrees), degrees)).toBeCloseTo(p, 10);
    for (const p of [1e-12, 1e-4, 0.2, 0.5, 0.9]) expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 9);
    expect(normalCdf(-10) / 7.619853024160527e-24).toBeCloseTo(1, 9); // Mills' ratio by continued fraction, from memory
  });

  it('gives the interference of two normals (worked, Φ of the standardised difference)', () => {
    const p = (ms: number, ss: number, mt: number, st: number) => normalCdf(-(ms - mt) / Math.hypot(ss, st));
    expect(p(18.2, 0.05, 18.1, 0.06)).toBeCloseTo(0.100208, 6);
    expect(p(18.15, 0.03, 18.0, 0.08)).toBeCloseTo(0.039577, 6);
    expect(p(18.0, 0.04, 18.05, 0.06)).toBeCloseTo(0.755963, 6);
  });

  it('gives the two-sided normal tolerance factors (NIST/SEMATECH e-Handbook 7.2.6.3, exact integral)', () => {
    for (const [n, k] of [
      [2, 36.5192],
      [3, 9.7888],
      [5, 5.0769],
      [8, 3.7455],
      [10, 3.3934],
      [30, 2.5549],
    ] as const)
      expect(toleranceFactor(n) / k).toBeCloseTo(1, 4);
    expect(toleranceFactor(8, 0.95, 0.9)).toBeCloseTo(3.2699, 3);
    expect(toleranceFactor(43, 0.9, 0.99)).toBeCloseTo(2.222825, 4);
    // The handbook's worked example: 43 readings, 90 % of the population with 99 % confidence.
    expect(howeToleranceFactor(43, 0.9, 0.99)).toBeCloseTo(2.217316, 5);
  });

  it('combines the end gauge’s contributions (JCGM 100:2008, H.1: 32 nm, 16 degrees, 93 nm)', () => {
    const gauge = combinedUncertainty([
      { u: 25, degreesOfFreedom: 18 },
      { u: 9.7, degreesOfFreedom: 25.6 },
      { u: 2.9, degreesOfFreedom: 50 },
      { u: 16.6, degreesOfFreedom: 2 },
    ]);
    expect(gauge.u).toBeCloseTo(31.671, 3);
    expect(gauge.degreesOfFreedom).toBeCloseTo(16.765, 2);
    expect(coverageFactor(0.99, Math.floor(gauge.degreesOfFreedom)) * 32).toBeCloseTo(93.47, 1);
  });
});
