import { polygonRing, type Ring, rectangleRing } from '@haunch/geometry';
import type { NestingInstance, NestingStrategy } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { runNesting } from '../run-nesting.js';
import { seededRun } from '../ticks.js';
import { constructive } from './bottom-left-fill.js';
import { overlapMinimising } from './overlap-minimising.js';

const good = {
  id: 'good',
  outline: rectangleRing(0, 0, 100, 60),
  turns: [0, Math.PI / 2],
  boards: ['sheet'],
};
const sheet = { id: 'sheet', outline: rectangleRing(0, 0, 500, 300), keepOuts: [] };
const beside = (outline: Ring): NestingInstance => ({
  items: [{ ...good, id: 'bad', outline }, good],
  boards: [sheet],
  spacing: 5,
  edgeMargin: 5,
});
const ring = (...at: readonly (readonly [number, number])[]): Ring =>
  polygonRing(at.map(([x, y]) => ({ x, y })));

const strategies = [constructive, overlapMinimising] as unknown as NestingStrategy[];

describe.each(strategies.map((s) => [s.name, s] as const))('%s, given what cannot be laid', (_, strategy) => {
  const run = (instance: NestingInstance) =>
    runNesting(strategy, instance, strategy.defaults, seededRun(1, 300));

  it.each([
    ['larger than the board', rectangleRing(0, 0, 600, 400)],
    ['without area', ring([0, 0], [10, 0], [20, 0])],
    ['crossing itself', ring([0, 0], [60, 60], [60, 0], [0, 90])],
    ['running back on itself', ring([0, 0], [60, 0], [60, 30], [90, 30], [60, 30], [60, 60], [0, 60])],
  ])('lays the other part beside one %s, and lists that', (_what, outline) => {
    const { layout, report, diagnostics } = run(beside(outline));
    expect([layout.placements.map((p) => p.item), layout.unplaced]).toEqual([['good'], ['bad']]);
    expect([report.valid, diagnostics]).toEqual([true, []]);
  });

  it('lays one part where the spacing leaves room for no other, and lists the rest', () => {
    const { layout, report } = run({ ...beside(good.outline), spacing: 1000 });
    expect([layout.placements.length, layout.unplaced.length, report.valid]).toEqual([1, 1, true]);
  });

  it('lists all where keep-outs cover the board', () => {
    const keepOuts = [rectangleRing(0, 0, 250, 300), rectangleRing(250, 0, 500, 300)];
    const { layout } = run({ ...beside(good.outline), boards: [{ ...sheet, keepOuts }] });
    expect([layout.placements, layout.unplaced]).toEqual([[], ['bad', 'good']]);
  });

  it('lays 10,000 copies as far as there is room, and lists the rest', () => {
    const items = Array.from({ length: 10_000 }, (_, i) => ({ ...good, id: `p${i}` }));
    const { layout, report } = run({ items, boards: [sheet], spacing: 5, edgeMargin: 5 });
    // By hand: (500 − 10 + 5) / 105 = 4 and (300 − 10 + 5) / 65 = 4, or turned 7 × 2: 16 at least.
    expect(layout.placements.length).toBeGreaterThanOrEqual(16);
    expect(layout.placements.length + layout.unplaced.length).toBe(10_000);
    expect(report.valid).toBe(true);
  });
});
