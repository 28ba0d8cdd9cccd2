import { polygonRing, rectangleRing } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../check-layout.js';
import { compareScores, scoreLayout } from '../score-layout.js';
import { seededRun } from '../ticks.js';
import { overlapMinimising } from './overlap-minimising.js';

const ALL = [0, Math.PI / 2, Math.PI, 1.5 * Math.PI];
const layouts = (instance: NestingInstance, seed: number, ticks: number): Layout[] => [
  ...overlapMinimising.nest(instance, { ...overlapMinimising.defaults, start: 0.1 }, seededRun(seed, ticks)),
];
const hook = (a: number, b: number, t: number) =>
  polygonRing([
    { x: 0, y: 0 },
    { x: a, y: 0 },
    { x: a, y: t },
    { x: t, y: t },
    { x: t, y: b },
    { x: 0, y: b },
  ]);
const board = (w: number, h: number) => ({ id: 'sheet', outline: rectangleRing(0, 0, w, h), keepOuts: [] });
const hooks = (n: number, spacing: number): NestingInstance => ({
  items: Array.from({ length: n }, (_, i) => ({
    id: `hook-${i + 1}`,
    outline: hook(40 + 7 * (i % 3), 60, 12 + (i % 2)),
    turns: ALL,
    boards: ['sheet'],
  })),
  boards: [board(900, 120)],
  spacing,
  edgeMargin: 2,
});

describe('overlapMinimising', () => {
  it('yields only layouts that the referee finds valid', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1000 }),
        fc.integer({ min: 2, max: 9 }),
        fc.constantFrom(0, 3, 7.35),
        (seed, n, spacing) => {
          const instance = hooks(n, spacing);
          for (const layout of layouts(instance, seed, 250)) {
            const report = checkLayout(instance, layout);
            expect(report.violations).toEqual([]);
            expect(layout.unplaced).toEqual([]);
          }
        },
      ),
      { numRuns: 6 },
    );
  });

  it('begins with the layout that it is given', () => {
    const instance = hooks(4, 5);
    const from: Layout = layouts(instance, 1, 1)[0]!;
    const options = { ...overlapMinimising.defaults, from };
    const offered = [...overlapMinimising.nest(instance, options, seededRun(2, 600))];
    expect(offered[0]).toBe(from);
    const scores = offered.map((l) => scoreLayout(instance, l));
    expect(compareScores(scores.at(-1)!, scores[0]!)).toBeLessThan(0);
  });

  it('uses up a cheap board rather than one that costs more', () => {
    const square = { outline: rectangleRing(0, 0, 40, 40), turns: [0], boards: ['sheet', 'off-cut'] };
    const instance: NestingInstance = {
      items: ['a', 'b'].map((id) => ({ id, ...square })),
      boards: [board(200, 100), { ...board(100, 100), id: 'off-cut', cost: 0.25 }],
      spacing: 5,
      edgeMargin: 2,
    };
    const last = layouts(instance, 1, 2000).at(-1)!;
    expect(new Set(last.placements.map((p) => p.board))).toEqual(new Set(['off-cut']));
  });

  it('yields the same layouts for the same seed and ticks', () => {
    const instance = hooks(8, 5);
    expect(layouts(instance, 7, 500)).toEqual(layouts(instance, 7, 500));
  });

  it('has a layout when stopped at any tick, never worse than one stopped earlier', () => {
    const instance = hooks(5, 4);
    let before = Infinity;
    for (const ticks of [0, 1, 30, 100, 600]) {
      const last = layouts(instance, 3, ticks).at(-1)!;
      expect(checkLayout(instance, last).valid).toBe(true);
      const { extent } = scoreLayout(instance, last);
      // The share of the budget that is spent decides what is tried, so longer is better only by and large.
      expect(extent).toBeLessThanOrEqual(before * 1.05);
      before = Math.min(before, extent);
    }
  });

  it('is shorter than its constructive start on hooks that can be laid into each other', () => {
    const instance = hooks(9, 0);
    const all = layouts(instance, 1, 1500);
    expect(all.length).toBeGreaterThan(1);
    expect(compareScores(scoreLayout(instance, all.at(-1)!), scoreLayout(instance, all[0]!))).toBeLessThan(0);
  });
});
