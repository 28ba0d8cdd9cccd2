import { polygonRing, rectangleRing } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import {
  checkLayout,
  compareScores,
  constructive,
  runNesting,
  scoreLayout,
  seededRun,
} from '@haunch/nesting';
import { describe, expect, it } from 'vitest';
import { improveStocks, type LayoutStep } from './improve-stocks.js';

const bracket = (a: number, b: number) =>
  polygonRing([
    { x: 0, y: 0 },
    { x: a, y: 0 },
    { x: a, y: 40 },
    { x: 40, y: 40 },
    { x: 40, y: b },
    { x: 0, y: b },
  ]);

/** The same brackets of two stocks, each with a board of its own. */
const instance: NestingInstance = {
  items: Array.from({ length: 12 }, (_, i) => ({
    id: `b${i}`,
    outline: bracket(200 + 20 * (Math.floor(i / 2) % 3), 300),
    turns: [0, Math.PI / 2, Math.PI, 1.5 * Math.PI],
    boards: [i % 2 === 0 ? 'thick' : 'thin'],
  })),
  boards: [
    { id: 'thin', outline: rectangleRing(0, 0, 1500, 700), keepOuts: [] },
    { id: 'thick', outline: rectangleRing(0, 0, 1500, 700), keepOuts: [] },
  ],
  spacing: 10,
  edgeMargin: 10,
};
const first = runNesting(constructive, instance, constructive.defaults, seededRun(1, 1)).layout;
const improve = (stopAfter?: number) => {
  const steps: LayoutStep[] = [];
  const improved = improveStocks(instance, first, {
    seed: 3,
    moves: 2500,
    stopAfter,
    found: (s) => steps.push(s),
  });
  return { ...improved, steps };
};
const whole = improve();

describe('improveStocks', () => {
  it('tells of each better layout, all of them valid and complete, and answers the last', () => {
    expect(whole.steps.length).toBeGreaterThan(2);
    let before = scoreLayout(instance, first);
    for (const { layout, score, moves } of whole.steps) {
      expect(checkLayout(instance, layout).violations).toEqual([]);
      expect(score).toEqual(scoreLayout(instance, layout));
      expect(compareScores(score, before)).toBeLessThanOrEqual(0);
      expect(moves).toBeLessThanOrEqual(2500);
      before = score;
    }
    expect(whole.layout).toEqual(whole.steps.at(-1)!.layout);
    expect(before.extent).toBeLessThan(scoreLayout(instance, first).extent);
  });

  it('makes each stock better by itself, since none can take room from another', () => {
    for (const board of ['thick', 'thin']) {
      const on = (l: typeof first) => l.placements.filter((p) => p.board === board);
      expect(on(whole.layout)).toHaveLength(6);
      expect(on(whole.layout)).not.toEqual(on(first));
    }
  });

  it('makes the layout again that somebody was content with, and counts the same moves', () => {
    const shown = whole.steps[2]!;
    let content = false;
    const stopped = improveStocks(instance, first, {
      seed: 3,
      moves: 2500,
      found: (s) => {
        content ||= s.moves === shown.moves;
      },
      enough: () => content,
    });
    expect(stopped.layout).toEqual(shown.layout);
    expect(improve(stopped.moves)).toMatchObject({ layout: shown.layout, moves: stopped.moves });
  });

  it('leaves a layout as it is without a move', () =>
    expect(improve(0)).toMatchObject({ layout: { placements: expect.any(Array) }, moves: 0, steps: [] }));
});
