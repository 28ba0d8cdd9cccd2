import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../seeded-random.js';
import { figureAt, performanceProfiles, secondsTo, shareSteps } from './curve.js';
import { holm, signedRank } from './signed-rank.js';
import { quantile, spreadOf } from './spread.js';

const figures = fc.array(fc.double({ min: -1000, max: 1000, noNaN: true }), { minLength: 1, maxLength: 12 });

/** The probability by going through every way of giving the ranks signs. */
function enumerated(d: readonly number[]): number {
  const v = d.filter((x) => x !== 0);
  const sizes = v.map(Math.abs);
  const rank = (s: number): number =>
    sizes.filter((x) => x < s).length + (sizes.filter((x) => x === s).length + 1) / 2;
  const ranks = sizes.map(rank);
  const total = ranks.reduce((a, b) => a + b, 0);
  const up = ranks.reduce((s, r, i) => s + (v[i]! > 0 ? r : 0), 0);
  const least = Math.min(up, total - up);
  let hits = 0;
  for (let m = 0; m < 2 ** v.length; m++)
    if (ranks.reduce((s, r, i) => s + ((m >> i) & 1 ? r : 0), 0) <= least) hits++;
  return Math.min(1, (2 * hits) / 2 ** v.length);
}

describe('signedRank', () => {
  it('counts every way of signs, equal differences included', () =>
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -4, max: 4 }), { minLength: 1, maxLength: 10 }), (d) => {
        const zeros = d.map(() => 0);
        const t = signedRank(d, zeros);
        expect(t.p).toBeCloseTo(d.some((x) => x !== 0) ? enumerated(d) : 1, 12);
        expect(signedRank(zeros, d).p).toBe(t.p);
      }),
    ));

  // Differences in height of Darwin's crossed and self-fertilised maize, a common textbook example of this test
  // (C. Darwin, The Effects of Cross and Self Fertilisation, 1876); sum 24, p 0.04126 from memory.
  it("gives the textbook answer for Darwin's plants", () => {
    const d = [6, 8, 14, 16, 23, 24, 28, 29, 41, -48, 49, 56, 60, -67, 75];
    const t = signedRank(
      d,
      d.map(() => 0),
    );
    expect(t.statistic).toBe(24);
    expect(t.p).toBeCloseTo(0.041259765625, 12);
    expect(t.better).toBe('first');
  });

  // Tables of critical values: 10 pairs, two-sided 5 %: a sum of 8 is significant, 9 is not (from memory).
  it('agrees with the printed critical value for ten pairs', () => {
    const signs = (negative: readonly number[]) =>
      Array.from({ length: 10 }, (_, i) => (negative.includes(i + 1) ? -(i + 1) : i + 1));
    const p = (negative: readonly number[]) => signedRank(signs(negative), new Array(10).fill(0)).p;
    expect(p([8])).toBeLessThanOrEqual(0.05);
    expect(p([9])).toBeGreaterThan(0.05);
  });

  it('takes many pairs as normal, near the exact answer', () => {
    const random = seededRandom(3);
    const d = Array.from({ length: 200 }, () => random() - 0.44);
    const exact = signedRank(d, new Array(200).fill(0));
    const normal = signedRank([...d, 1e-9], new Array(201).fill(0));
    expect(normal.p).toBeCloseTo(exact.p, 2);
  });

  it('refuses lists that are no pairs', () => {
    expect(() => signedRank([1], [])).toThrow(RangeError);
    expect(() => signedRank([Number.NaN], [0])).toThrow(RangeError);
  });
});

describe('holm', () => {
  it('multiplies the smallest most, and never lets a smaller one overtake', () => {
    expect(holm([0.01, 0.04, 0.03, 0.005])).toEqual([0.03, 0.06, 0.06, 0.02]);
    expect(() => holm([1.2])).toThrow(RangeError);
  });
  it('never lies below the given, nor above Bonferroni', () =>
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 8 }), (p) =>
        holm(p).forEach((v, i) => {
          expect(v).toBeGreaterThanOrEqual(p[i]!);
          expect(v).toBeLessThanOrEqual(Math.min(1, p[i]! * p.length) + 1e-15);
        }),
      ),
    ));
});

describe('spreadOf', () => {
  it('holds mean between worst and best, and the interval within them', () =>
    fc.assert(
      fc.property(figures, (v) => {
        const s = spreadOf(v, seededRandom(1));
        expect(s.worst).toBeLessThanOrEqual(s.mean + 1e-9);
        expect(s.mean).toBeLessThanOrEqual(s.best + 1e-9);
        expect(s.interval[0]).toBeGreaterThanOrEqual(s.worst - 1e-9);
        expect(s.interval[1]).toBeLessThanOrEqual(s.best + 1e-9);
      }),
    ));
  // NIST/SEMATECH e-Handbook's definition of the sample standard deviation, worked by hand.
  it('divides by one less than the count', () => {
    const s = spreadOf([2, 4, 4, 4, 5, 5, 7, 9], seededRandom(1));
    expect(s.deviation).toBeCloseTo(Math.sqrt(32 / 7), 12);
    expect(s.median).toBe(4.5);
  });
  it('covers the mean about as often as it says, for twenty figures', () => {
    const random = seededRandom(5);
    const runs = 400;
    let covered = 0;
    for (let k = 0; k < runs; k++) {
      const v = Array.from({ length: 20 }, () => random() + random() + random());
      const { interval } = spreadOf(v, random);
      if (interval[0] <= 1.5 && 1.5 <= interval[1]) covered++;
    }
    // The percentile bootstrap is known to be narrow for small samples: 0.93 ± 3 standard errors of 400 runs.
    expect(covered / runs).toBeGreaterThan(0.93 - 3 * Math.sqrt((0.93 * 0.07) / runs));
    expect(covered / runs).toBeLessThan(0.99);
  });
  it('finds quantiles straight between neighbours', () => {
    // Hyndman and Fan's definition 7 for 1 … 10 at a quarter: 3.25.
    expect(quantile([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 0.25)).toBe(3.25);
    expect(() => quantile([], 0.5)).toThrow(RangeError);
  });
});

describe('curves', () => {
  const curve = [
    { seconds: 1, ticks: 10, figure: 50 },
    { seconds: 3, ticks: 40, figure: 60 },
  ];
  it('are steps', () => {
    expect([0.5, 1, 2.9, 3, 9].map((s) => figureAt(curve, s, 0))).toEqual([0, 50, 50, 60, 60]);
    expect([secondsTo(curve, 55), secondsTo(curve, 61)]).toEqual([3, undefined]);
  });
  it('count runs that never arrived in the whole', () =>
    expect(shareSteps([2, undefined, 1, 2])).toEqual([
      { x: 1, share: 0.25 },
      { x: 2, share: 0.75 },
    ]));
  it('make performance profiles', () => {
    // Two solvers, three problems, ratios by hand.
    const [a, b] = performanceProfiles([
      [1, 4, undefined],
      [2, 2, 3],
    ]);
    expect(a).toEqual([
      { x: 1, share: 1 / 3 },
      { x: 2, share: 2 / 3 },
    ]);
    expect(b).toEqual([
      { x: 1, share: 2 / 3 },
      { x: 2, share: 1 },
    ]);
    expect(() => performanceProfiles([[0]])).toThrow(RangeError);
  });
});
