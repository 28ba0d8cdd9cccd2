import { describe, expect, it } from 'vitest';
import { predictFits } from './predict-fits.js';
import type { FitForecast } from './predicted-fit.js';
import { compareWorkingWays } from './working-ways.js';

/** A small generator of random numbers for tests: a linear congruence, its upper bits. */
const numbers = (seed: number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return ((state >>> 8) + 0.5) / 2 ** 24;
  };
};

const fit = (
  id: string,
  clearance: number,
  own: number,
  shares: Record<string, number> = {},
): FitForecast => ({
  id,
  clearance,
  window: [0.05, 0.15],
  shares,
  own,
});

describe('predictFits', () => {
  it('gives the chances of a worked slot: 18.005 ± 0.03 on a sheet of 17.905 ± 0.028785', () => {
    // Interference 0.008081 as Φ(−0.1/0.041576); classes of the fits table 0.114408 + 0.770874 + 0.114563 (+ tails).
    const own = Math.hypot(0.03, 0.028785);
    const [p] = predictFits([{ ...fit('one', 0.1, own), window: [0, 9] }], [], { random: numbers(1) }).fits;
    expect(p!.tight).toBeCloseTo(0.008081, 5);
    const [snug] = predictFits([fit('one', 0.1, own)], [], { random: numbers(1) }).fits;
    expect(snug!.wanted).toBeCloseTo(0.770874, 4);
    expect(snug!.tight + snug!.wanted + snug!.slack).toBeCloseTo(1, 12);
  });

  it('stacks 100 ± 0.10, two of 18.1 ± 0.15 and 60 ± 0.10: ± 0.50 at worst, ± 0.254951 by squares', () => {
    const sources = [0.1, 0.15, 0.15, 0.1].map((limit, i) => ({ id: `s${i}`, u: limit / 2 }));
    const shares = Object.fromEntries(sources.map((s) => [s.id, 1]));
    const [p] = predictFits([{ ...fit('stack', 0, 0, shares), clearance: 0 }], sources, {
      random: numbers(1),
    }).fits;
    expect(p!.worstCase[1]).toBeCloseTo(0.5, 12);
    expect(p!.rootSumSquare[1]).toBeCloseTo(0.254951, 6);
  });

  it('simulates what it works out: numbers of tight and slack fits within three standard errors', () => {
    const sources = [
      { id: 'cutter', u: 0.03 },
      { id: 'map', u: 0.02 },
    ];
    const fits = Array.from({ length: 20 }, (_, i) =>
      fit(`f${i}`, 0.1 + (i % 3) * 0.02, 0.01, { cutter: 1, map: -1 }),
    );
    const p = predictFits(fits, sources, { random: numbers(7), runs: 4000 });
    // Shared errors make the fits go wrong together: a count's standard deviation is at most 20.
    expect(Math.abs(p.simulated.tight - p.expected.tight)).toBeLessThan((3 * 20) / Math.sqrt(4000));
    expect(Math.abs(p.simulated.slack - p.expected.slack)).toBeLessThan((3 * 20) / Math.sqrt(4000));
    const alone = p.fits.reduce((product, f) => product * f.wanted, 1);
    expect(p.simulated.allWanted).toBeGreaterThan(alone);
  });

  it('shows one doubt three ways: simulated as by squares for linear normal errors, both inside the worst case', () => {
    const sources = [
      { id: 'cutter', u: 0.03 },
      { id: 'map', u: 0.02 },
    ];
    const [f] = predictFits([fit('a', 0.1, 0.01, { cutter: 1, map: -1 })], sources, {
      random: numbers(11),
      runs: 20_000,
    }).fits;
    // JCGM 101:2008, 5.11: with linear normal errors both frameworks give one interval. A quantile at 2.275 % of 20,000 runs has a standard error of 0.02 u.
    for (const k of [0, 1] as const)
      expect(Math.abs(f!.monteCarlo[k] - f!.rootSumSquare[k])).toBeLessThan(4 * 0.02 * f!.u);
    expect(f!.worstCase[0]).toBeLessThan(f!.monteCarlo[0]);
    expect(f!.worstCase[1]).toBeGreaterThan(f!.monteCarlo[1]);
  });

  it('counts a joint once however many of its fits are tight, and calls it slack only where none is', () => {
    const at = (id: string, joint: string, clearance: number): FitForecast => ({
      ...fit(id, clearance, 0),
      joint,
    });
    const { joints, jointsTight, jointsTightRange } = predictFits(
      [at('a1', 'a', 0), at('a2', 'a', 0.01), at('a3', 'a', 0.3), at('b1', 'b', 0.3), at('c1', 'c', 0.1)],
      [],
      { random: numbers(5), runs: 50 },
    ).simulated;
    expect(jointsTight).toBe(1);
    expect(jointsTightRange).toEqual([1, 1, 1]);
    expect(joints).toEqual([
      { id: 'a', tight: 1, wanted: 0, slack: 0 },
      { id: 'b', tight: 0, wanted: 0, slack: 1 },
      { id: 'c', tight: 0, wanted: 1, slack: 0 },
    ]);
  });

  it('ranks remedies by what they save', () => {
    const sources = [
      { id: 'cutter', u: 0.05, remedy: { what: 'a ladder', u: 0.01 } },
      { id: 'map', u: 0.02, remedy: { what: 'another reading', u: 0.015 } },
    ];
    const p = predictFits([fit('a', 0.1, 0.01, { cutter: 1, map: -1 })], sources, {
      random: numbers(3),
      runs: 100,
    });
    expect(p.remedies.map((r) => r.what)).toEqual(['a ladder', 'another reading']);
    expect(p.remedies.every((r) => r.saved > 0)).toBe(true);
  });

  it('refuses a source that was not given', () => {
    expect(() => predictFits([fit('a', 0.1, 0, { nothing: 1 })], [], { random: numbers(1) })).toThrow(
      RangeError,
    );
  });
});

describe('compareWorkingWays', () => {
  it('ranks the ways: each gets more pieces right, and has fewer fits off, than the one before', () => {
    const ways = compareWorkingWays({ random: numbers(11), runs: 120 });
    const off = ways.map((w) => w.tight + w.loose);
    for (let i = 1; i < ways.length; i++) expect(off[i]).toBeLessThan(off[i - 1]!);
    expect(ways[4]!.right).toBeGreaterThan(ways[3]!.right);
    expect(ways[3]!.right).toBeGreaterThan(ways[2]!.right);
    expect(ways[0]!.right).toBeLessThan(0.08);
  });
});
