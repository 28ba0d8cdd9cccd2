import { type Ring, rectangleRing } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { checkLayout } from './check-layout.js';
import { instanceProblems } from './instance-problems.js';
import { constructive } from './strategies/bottom-left-fill.js';
import { overlapMinimising } from './strategies/overlap-minimising.js';
import { pierce } from './strategies/pierce.js';
import { seededRun } from './ticks.js';

const TURNS = [0, Math.PI / 2, Math.PI, 1.5 * Math.PI];
const frame = (id: string, outer: number, hole: number) => ({
  id,
  outline: rectangleRing(0, 0, outer, outer),
  holes: [rectangleRing((outer - hole) / 2, (outer - hole) / 2, (outer + hole) / 2, (outer + hole) / 2)],
  turns: TURNS,
  boards: ['b'],
});
const plate = (id: string, w: number, h: number) => ({
  id,
  outline: rectangleRing(0, 0, w, h),
  turns: TURNS,
  boards: ['b'],
});
const instance = (
  items: NestingInstance['items'],
  side: number,
  spacing: number,
  keepOuts: readonly Ring[] = [],
): NestingInstance => ({
  items,
  boards: [{ id: 'b', outline: rectangleRing(0, 0, side, side), keepOuts }],
  spacing,
  edgeMargin: 0,
});
const at = (item: string, dx: number, dy: number) => ({
  item,
  board: 'b',
  motion: { mirror: false, turn: 0, dx, dy },
});

describe('the referee on holes', () => {
  const i = instance([frame('frame', 100, 60), plate('plate', 50, 50)], 200, 4);
  const judge = (dx: number, dy: number) =>
    checkLayout(i, { kind: 'layout', placements: [at('frame', 0, 0), at('plate', dx, dy)], unplaced: [] });

  it.each([
    ['in the middle of the hole', 25, 25, true, 5],
    ['just as near as allowed', 24, 24, true, 4],
    ['a step too near to the edge of the hole', 23.9999, 25, false, 3.9999],
    ['touching the edge of the hole', 20, 25, false, 0],
  ])('%s', (_, dx, dy, valid, gap) => {
    const report = judge(dx, dy);
    expect(report.valid).toBe(valid);
    expect(report.leastGap).toBeCloseTo(gap, 6);
    if (!valid) expect(report.violations.map((v) => v.kind)).toEqual(['spacing']);
  });

  it.each([
    ['across the edge of the hole', 15, 25],
    ['on the corner of the frame', 60, 60],
    ['a step over the edge of the hole', 19.9999, 25],
  ])('%s: an overlap', (_, dx, dy) =>
    expect(judge(dx, dy).violations.map((v) => v.kind)).toEqual(['overlap']),
  );

  it('sees an item over a hole that is too small for it', () => {
    const j = instance([frame('frame', 100, 60), plate('plate', 70, 70)], 200, 0);
    const layout: Layout = {
      kind: 'layout',
      placements: [at('frame', 0, 0), at('plate', 15, 15)],
      unplaced: [],
    };
    expect(checkLayout(j, layout).violations.map((v) => v.kind)).toEqual(['overlap']);
  });

  it('takes an item without holes for solid', () => {
    const solid = { ...frame('frame', 100, 60), holes: [] };
    const j = instance([solid, plate('plate', 50, 50)], 200, 4);
    const layout: Layout = {
      kind: 'layout',
      placements: [at('frame', 0, 0), at('plate', 25, 25)],
      unplaced: [],
    };
    expect(checkLayout(j, layout).violations.map((v) => v.kind)).toEqual(['overlap']);
  });
});

describe('holes that are none', () => {
  it.each([
    ['outside', rectangleRing(90, 90, 120, 120)],
    ['empty', rectangleRing(10, 10, 10, 20)],
  ])('%s: named', (_, hole) => {
    const bad = { ...frame('frame', 100, 60), holes: [hole] };
    expect(instanceProblems(instance([bad], 200, 4)).map((d) => d.code)).toEqual(['lay/hole-outside-part']);
  });
});

describe('outlines with holes', () => {
  it('are cut into pieces that leave the holes open', () => {
    const outline = [0, 0, 100, 0, 100, 100, 0, 100];
    const one = [10, 10, 10, 40, 40, 40, 40, 10];
    const two = [60, 60, 60, 90, 90, 90, 90, 60];
    const three = [60, 10, 60, 50, 80, 20];
    expect(pierce(outline, [one, two, three])).toBeDefined();
    expect(pierce(outline, [])).toEqual(outline);
  });

  it('are taken for solid where a hole crosses the outline', () => {
    expect(pierce([0, 0, 100, 0, 100, 100, 0, 100], [[90, 10, 90, 40, 120, 40, 120, 10]])).toBeUndefined();
  });
});

describe.each([
  ['constructive', constructive],
  ['overlap-minimising', overlapMinimising],
] as const)('%s strategy', (_, strategy) => {
  const nest = (i: NestingInstance): Layout =>
    [...strategy.nest(i, strategy.defaults as never, seededRun(1, 1500))].at(-1)!;

  it('lays a chain of frames into each other, where the board has room for the largest only', () => {
    const i = instance(
      [frame('a', 300, 260), frame('b', 250, 200), frame('c', 190, 120), plate('d', 110, 115)],
      300,
      2,
    );
    const layout = nest(i);
    expect(checkLayout(i, layout).violations).toEqual([]);
    expect(layout.unplaced).toEqual([]);
  });

  it('fills a hole exactly where nothing is kept between', () => {
    const i = instance([frame('a', 100, 60), plate('b', 60, 30), plate('c', 30, 60)], 100, 0);
    const layout = nest(i);
    expect(checkLayout(i, layout).violations).toEqual([]);
    expect(layout.unplaced).toEqual([]);
  });
});
