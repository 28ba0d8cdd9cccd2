import { describe, expect, it } from 'vitest';
import { seededRandom } from './seeded-random.js';
import { seededRun, ticks } from './ticks.js';

describe('seededRandom', () => {
  it('gives the same numbers on every machine', () => {
    // Numbers of a second implementation in another language, with integers of any length.
    const next = seededRandom(1);
    expect([next(), next(), next()].map((v) => v * 2 ** 32)).toEqual(GOLDEN);
  });

  it('differs between seeds from the first number on', () => {
    const firsts = new Set(Array.from({ length: 1000 }, (_, seed) => seededRandom(seed)()));
    expect(firsts.size).toBe(1000);
  });

  it('fills [0, 1) evenly: chi-square of 64 classes below its 99.9 % point, 103.4', () => {
    // Critical value of chi-square with 63 degrees of freedom, from memory of the usual tables.
    const next = seededRandom(7);
    const count = new Array<number>(64).fill(0);
    for (let i = 0; i < 64_000; i++) count[Math.floor(next() * 64)]!++;
    expect(count.reduce((sum, n) => sum + (n - 1000) ** 2 / 1000, 0)).toBeLessThan(103.4);
  });

  it.each([-1, 0.5, Number.NaN, 2 ** 32])('refuses the seed %s', (seed) =>
    expect(() => seededRandom(seed)).toThrow(RangeError),
  );
});

describe('ticks', () => {
  it('says yes n times and no ever after', () => {
    const tick = ticks(3);
    expect(Array.from({ length: 6 }, tick)).toEqual([true, true, true, false, false, false]);
  });
  it('refuses a number that is none', () => expect(() => ticks(Number.NaN)).toThrow(RangeError));
  it('comes with randomness as a run', () => {
    const run = seededRun(3, 1);
    expect(run.random()).toBe(seededRandom(3)());
    expect([run.tick(), run.tick()]).toEqual([true, false]);
  });
});

const GOLDEN = [52_107_484, 3_520_520, 3_760_476_048];
