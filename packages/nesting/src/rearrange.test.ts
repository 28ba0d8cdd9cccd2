import { moveRing, polygonRing, rectangleRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance, Placement } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { checkLayout } from './check-layout.js';
import { alikeTerm, measureTerms } from './objective-term.js';
import { rearrange } from './rearrange.js';
import { runNesting } from './run-nesting.js';
import { compareScores, scoreLayout } from './score-layout.js';
import { constructive } from './strategies/bottom-left-fill.js';
import { seededRun } from './ticks.js';

const shelf = rectangleRing(0, 0, 300, 120);
const rail = polygonRing([
  { x: 0, y: 0 },
  { x: 300, y: 0 },
  { x: 300, y: 60 },
  { x: 200, y: 110 },
  { x: 0, y: 110 },
]);
const item = (id: string, outline = shelf) => ({ id, outline, turns: [0, Math.PI], boards: ['wedge'] });
/** Two shelves and two rails, in a row along a sheet that is thicker to the right. */
const instance: NestingInstance = {
  items: [item('A'), item('B', rail), item('C'), item('D', rail)],
  boards: [{ id: 'wedge', outline: rectangleRing(0, 0, 1300, 160), keepOuts: [] }],
  spacing: 10,
  edgeMargin: 10,
};
const inRow = (...ids: readonly string[]): Layout => ({
  kind: 'layout',
  placements: instance.items.map(
    ({ id }): Placement => ({
      item: id,
      board: 'wedge',
      motion: { mirror: false, turn: 0, dx: 10 + 310 * ids.indexOf(id), dy: 10 },
    }),
  ),
  unplaced: [],
});
/** 17.5 mm at the left end, 18.15 at the right: 0.05 mm for every 100. */
const thicknessAt = (p: Placement): number => {
  const { minX, maxX } = ringBounds(moveRing(p.motion, instance.items.find((i) => i.id === p.item)!.outline));
  return 17.5 + (0.0005 * (minX + maxX)) / 2;
};
const mates = (tolerance: number, valueAt = thicknessAt) =>
  alikeTerm('thickness of mates', 'mm', [{ items: ['A', 'B'] }, { items: ['C', 'D'] }], valueAt, tolerance);
const less = (l: Layout, tolerance = 0.05) => rearrange(instance, l, [mates(tolerance)], seededRun(1, 600));

describe('rearrange', () => {
  it('lays two mates side by side on a wedge-shaped sheet where they lay at its ends', () => {
    const first = inRow('A', 'C', 'D', 'B');
    expect(measureTerms([mates(0)], first)[0]!.amount).toBeCloseTo(0.0005 * (930 + 310), 9);
    const { layout, moved } = less(first);
    expect(moved.length).toBeGreaterThan(0);
    expect(checkLayout(instance, layout).violations).toEqual([]);
    expect(compareScores(scoreLayout(instance, layout), scoreLayout(instance, first))).toBeLessThanOrEqual(0);
    const [after] = measureTerms([mates(0)], layout);
    expect(after).toMatchObject({ name: 'thickness of mates', unit: 'mm' });
    // Side by side, each pair: no layout of a row has less.
    expect(after!.amount).toBeCloseTo(0.0005 * 620, 9);
  });

  it('leaves a layout as it is, to the byte, where the field is even or what differs does not matter', () => {
    const first = inRow('A', 'C', 'D', 'B');
    expect(rearrange(instance, first, [mates(0, () => 18)], seededRun(1, 600)).layout).toBe(first);
    expect(less(first, 1).layout).toBe(first);
    expect(rearrange(instance, first, [], seededRun(1, 600)).layout).toBe(first);
    expect(less(inRow('A', 'B', 'C', 'D')).moved).toEqual([]);
  });

  it('brings a part to a free place beside its mate', () => {
    const wide: NestingInstance = {
      ...instance,
      items: instance.items.slice(2),
      boards: [{ ...instance.boards[0]!, outline: rectangleRing(0, 0, 1300, 290) }],
    };
    // C lies at the right end with room over it, its mate D at the left end; changing places would gain nothing.
    const at = (id: string, dx: number, dy: number): Placement => ({
      item: id,
      board: 'wedge',
      motion: { mirror: false, turn: 0, dx, dy },
    });
    const first: Layout = {
      kind: 'layout',
      placements: [at('C', 990, 10), at('D', 10, 145)],
      unplaced: [],
    };
    const { layout, moved } = rearrange(
      wide,
      first,
      [alikeTerm('thickness of mates', 'mm', [{ items: ['C', 'D'] }], thicknessAt, 0.05)],
      seededRun(1, 300),
    );
    expect(moved.length).toBeGreaterThan(0);
    expect(checkLayout(wide, layout).violations).toEqual([]);
    const [p, q] = ['C', 'D'].map((id) => thicknessAt(layout.placements.find((x) => x.item === id)!));
    expect(Math.abs(p! - q!)).toBeLessThan(0.06);
  });

  it('counts, stops when told, and gives the same for the same', () => {
    const first = inRow('A', 'C', 'D', 'B');
    expect(rearrange(instance, first, [mates(0.05)], seededRun(1, 0)).layout).toBe(first);
    expect(JSON.stringify(less(first))).toBe(JSON.stringify(less(structuredClone(first))));
  });

  it('never spoils what a strategy has found', () => {
    const { layout } = runNesting(constructive, instance, constructive.defaults, seededRun(3, 200));
    const other = less(layout).layout;
    expect(checkLayout(instance, other).valid).toBe(true);
    expect(compareScores(scoreLayout(instance, other), scoreLayout(instance, layout))).toBeLessThanOrEqual(0);
    expect(mates(0.05).measure(other)).toBeLessThanOrEqual(mates(0.05).measure(layout));
  });
});
