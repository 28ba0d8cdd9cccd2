import { rectangleRing } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { bestResult, explorerSeed, runExplorers } from './explorers.js';
import { runNesting } from './run-nesting.js';
import { compareScores } from './score-layout.js';
import { overlapMinimising } from './strategies/overlap-minimising.js';
import { seededRun } from './ticks.js';

const instance: NestingInstance = {
  items: [
    [40, 30],
    [35, 22],
    [18, 44],
    [27, 27],
    [51, 13],
  ].map(([w, h], i) => ({
    id: `p${i}`,
    outline: rectangleRing(0, 0, w!, h!),
    turns: [0, Math.PI / 2],
    boards: ['b'],
  })),
  boards: [{ id: 'b', outline: rectangleRing(0, 0, 200, 60), keepOuts: [] }],
  spacing: 2,
  edgeMargin: 1,
};
const one = (seed: number) =>
  runNesting(overlapMinimising, instance, overlapMinimising.defaults, seededRun(seed, 300));

describe('explorers', () => {
  it('are the same run when there is one', () => {
    const all = runExplorers(overlapMinimising, instance, overlapMinimising.defaults, {
      seed: 5,
      count: 1,
      ticks: 300,
    });
    expect(all).toEqual(one(5));
  });

  it('come to the best of the runs with their seeds, in whatever order these end', () => {
    const all = runExplorers(overlapMinimising, instance, overlapMinimising.defaults, {
      seed: 5,
      count: 3,
      ticks: 300,
    });
    const each = [2, 0, 1].map((k) => [k, one(explorerSeed(5, k))] as const);
    const inOrder = each.sort(([a], [b]) => a - b).map(([, r]) => r);
    expect(all).toEqual(bestResult(inOrder));
    for (const r of inOrder) expect(compareScores(all.score, r.score)).toBeLessThanOrEqual(0);
  });

  it('have seeds of their own, the first that of the run', () => {
    expect(explorerSeed(7, 0)).toBe(7);
    expect(new Set(Array.from({ length: 100 }, (_, k) => explorerSeed(7, k))).size).toBe(100);
    expect(explorerSeed(0xffffffff, 3)).toBeLessThanOrEqual(0xffffffff);
  });

  it('refuse a number that is none', () => {
    expect(() => explorerSeed(1, -1)).toThrow(RangeError);
    expect(() => explorerSeed(0.5, 1)).toThrow(RangeError);
    expect(() => bestResult([])).toThrow(RangeError);
  });
});
