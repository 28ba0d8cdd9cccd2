import { rectangleRing } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingStrategy } from '@haunch/model';
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

  const three = { seed: 5, count: 3, ticks: 300 };

  it('come to the same whenever they are run', () => {
    const once = runExplorers(overlapMinimising, instance, overlapMinimising.defaults, three);
    expect(once.report.valid).toBe(true);
    expect(once.diagnostics).toEqual([]);
    expect(runExplorers(overlapMinimising, instance, overlapMinimising.defaults, three)).toEqual(once);
  });

  it('come to the best of the runs with their seeds where their strategy shares nothing', () => {
    const { nest, ...rest } = overlapMinimising;
    const silent: typeof overlapMinimising = {
      ...rest,
      nest: (i, o, { random, tick, spent }) => nest(i, o, { random, tick, ...(spent ? { spent } : {}) }),
    };
    const all = runExplorers(silent, instance, overlapMinimising.defaults, three);
    const each = [0, 1, 2].map((k) => one(explorerSeed(5, k)));
    expect(all).toEqual(bestResult(each));
    for (const r of each) expect(compareScores(all.score, r.score)).toBeLessThanOrEqual(0);
  });

  it('hear the best that the others have at each meeting, as the referee let it pass', () => {
    // Each lays one square at a place of its own chance, meets, and tells what it heard.
    const square: NestingInstance = {
      ...instance,
      items: [{ id: 'p', outline: rectangleRing(0, 0, 10, 10), turns: [0], boards: ['b'] }],
    };
    const at = (dx: number, dy: number): Layout => ({
      kind: 'layout',
      placements: [{ item: 'p', board: 'b', motion: { mirror: false, turn: 0, dx, dy } }],
      unplaced: [],
    });
    const placeIn = (l: Layout | undefined): number | undefined => l?.placements[0]?.motion.dx;
    const heard: (number | undefined)[] = [];
    const own: number[] = [];
    const asking: NestingStrategy<object> = {
      name: 'asking',
      contract: 1,
      supports: { severalBoards: false, keepOuts: false, irregularBoards: false },
      defaults: {},
      *nest(_, __, run) {
        const dx = 1 + Math.floor(run.random() * 150);
        own.push(dx);
        // Out of the board: refused, so that nobody hears of it.
        yield at(-50, 1);
        yield at(dx, 30);
        if (!run.meets!()) throw new Error('no meeting');
        yield at(dx, 30);
        heard.push(placeIn(run.fellow!()));
        while (!run.meets!()) if (!run.tick()) return;
        yield at(dx, 30);
        heard.push(placeIn(run.fellow!()));
      },
    };
    runExplorers(asking, square, {}, { seed: 1, count: 2, ticks: 200 });
    expect(new Set(own).size).toBe(2);
    expect(heard).toEqual([own[1], own[0], own[1], own[0]]);
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
