import { circleRing, polygonRing, type Ring, rectangleRing, ring, STAY } from '@haunch/geometry';
import type { Layout, NestingInstance, Placement } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout, type ViolationKind } from './check-layout.js';

const item = (id: string, outline: Ring, boards = ['sheet']) => ({
  id,
  outline,
  turns: [0, Math.PI / 2],
  boards,
});
const at = (id: string, dx: number, dy: number, more: Partial<Placement['motion']> = {}): Placement => ({
  item: id,
  board: 'sheet',
  motion: { ...STAY, dx, dy, ...more },
});
const layout = (placements: readonly Placement[], unplaced: readonly string[] = []): Layout => ({
  kind: 'layout',
  placements,
  unplaced,
});

/** Two plates of 300 × 200 and a disc of radius 50 on a sheet of 1000 × 500 with a round keep-out. */
const instance: NestingInstance = {
  items: [
    item('A', rectangleRing(0, 0, 300, 200)),
    item('B', rectangleRing(0, 0, 300, 200)),
    item('C', circleRing({ x: 0, y: 0 }, 50)),
  ],
  boards: [
    {
      id: 'sheet',
      outline: rectangleRing(0, 0, 1000, 500),
      keepOuts: [circleRing({ x: 900, y: 400 }, 20)],
    },
    { id: 'other', outline: rectangleRing(0, 0, 1000, 500), keepOuts: [] },
  ],
  spacing: 10,
  edgeMargin: 15,
};
const A = at('A', 15, 15);
const B = at('B', 325, 15);
const C = at('C', 700, 100);
const good = [A, B, C];

describe('the referee passes', () => {
  it('a layout with exactly the spacing and exactly the edge margin', () => {
    const report = checkLayout(instance, layout(good));
    expect(report.violations).toEqual([]);
    expect(report.valid).toBe(true);
    expect(report.leastGap).toBeCloseTo(10, 9);
    expect(report.use[0]!.share).toBeCloseTo((120_000 + Math.PI * 2500) / 500_000, 12);
    expect(report.use[1]).toEqual({ board: 'other', share: 0 });
  });

  it('items that are named as unplaced', () => {
    const report = checkLayout(instance, layout([], ['C', 'A', 'B']));
    expect(report).toMatchObject({ valid: true, leastGap: null });
  });

  it('a disc at exactly the spacing from a keep-out, on the slope', () => {
    // 3-4-5 triangle: 48 + 64 → 80 = 50 + 20 + 10 apart.
    expect(checkLayout(instance, layout([A, B, at('C', 900 - 48, 400 - 64)])).violations).toEqual([]);
  });

  it('touching edges, corners and arcs at spacing 0', () => {
    const tight = { ...instance, spacing: 0, edgeMargin: 0 };
    const touching = [at('A', 0, 0), at('B', 300, 100), at('C', 100, 250)];
    const report = checkLayout(tight, layout(touching));
    expect(report.violations).toEqual([]);
    expect(report.leastGap).toBe(0);
  });

  it('a tongue in a groove at exactly the spacing', () => {
    const groove = polygonRing(
      [0, 0, 300, 0, 300, 200, 180, 200, 180, 100, 120, 100, 120, 200, 0, 200].flatMap((v, i, all) =>
        i % 2 ? [] : [{ x: v, y: all[i + 1]! }],
      ),
    );
    const tongue = rectangleRing(0, 0, 40, 200);
    const fit = { ...instance, items: [item('groove', groove), item('tongue', tongue)] };
    const report = checkLayout(fit, layout([at('groove', 15, 15), at('tongue', 145, 125)]));
    expect(report.violations).toEqual([]);
    const near = checkLayout(fit, layout([at('groove', 15, 15), at('tongue', 145.0001, 125)]));
    expect(near.violations.map((v) => v.kind)).toEqual(['spacing']);
  });
});

/** Every rule broken on purpose: the layout, the rules that must speak, and the measured amount where there is one. */
const zoo: readonly [string, Layout, readonly ViolationKind[], number?][] = [
  ['spacing short by 0.0002', layout([A, at('B', 324.9998, 15), C]), ['spacing'], 0.0002],
  ['spacing short by one grid step', layout([A, at('B', 324.9999, 15), C]), ['spacing'], 0.0001],
  ['edge margin short by one grid step', layout([at('A', 14.9999, 15), B, C]), ['edge-margin'], 0.0001],
  ['edge margin short at the far side', layout([A, B, at('C', 700, 435.0001)]), ['edge-margin'], 0.0001],
  ['a keep-out one grid step too near', layout([A, B, at('C', 820.0001, 400)]), ['keep-out'], 0.0001],
  ['a keep-out under an item', layout([at('A', 680, 285), B, at('C', 100, 300)]), ['keep-out']],
  ['a keep-out crossed', layout([A, B, at('C', 850, 400)]), ['keep-out']],
  ['two items crossing', layout([A, at('B', 200, 100), C]), ['overlap']],
  [
    'two items crossing like a cross',
    layout([at('A', 100, 100), at('B', 350, 50, { turn: Math.PI / 2 }), C]),
    ['overlap'],
  ],
  ['an item inside another', layout([A, at('B', 400, 15), at('C', 150, 110)]), ['overlap']],
  ['two items in one place', layout([A, at('B', 15, 15), C]), ['overlap']],
  ['an item over the edge', layout([A, B, at('C', 980, 100)]), ['outside-board'], 30],
  ['an item beside the board', layout([A, B, at('C', 1200, 100)]), ['outside-board']],
  ['an item placed twice', layout([...good, at('C', 700, 300)]), ['item-twice']],
  ['an item placed and unplaced', layout(good, ['C']), ['item-twice']],
  ['an item forgotten', layout([A, B]), ['item-missing'], 0],
  ['an item made up', layout([...good, at('D', 0, 0)]), ['unknown-item'], 0],
  ['an unknown name unplaced', layout(good, ['D']), ['unknown-item'], 0],
  ['a board made up', layout([A, B, { ...C, board: 'attic' }]), ['unknown-board'], 0],
  ['a board that is not allowed', layout([A, B, { ...C, board: 'other' }]), ['board-not-allowed'], 0],
  ['a mirrored item', layout([at('A', 315, 15, { mirror: true }), B, C]), ['mirrored'], 0],
  [
    'a turn that is not allowed',
    layout([at('A', 315, 215, { turn: Math.PI }), B, C]),
    ['turn-not-allowed'],
    Math.PI / 2,
  ],
  [
    'a turn off by a millionth',
    layout([A, B, at('C', 700, 100, { turn: 1e-6 })]),
    ['turn-not-allowed'],
    1e-6,
  ],
  ['a place that is not a number', layout([A, B, at('C', Number.NaN, 0)]), ['not-finite'], 0],
];

describe('the referee catches', () => {
  it.each(zoo)('%s', (_, broken, kinds, amount) => {
    const report = checkLayout(instance, broken);
    expect(report.valid).toBe(false);
    expect([...new Set(report.violations.map((v) => v.kind))]).toEqual(kinds);
    if (amount !== undefined) expect(report.violations[0]!.amount).toBeCloseTo(amount, 8);
    for (const v of report.violations) {
      expect(v.message).toMatch(/^[A-Z].*\.$/);
      expect(v.amount).toBeGreaterThanOrEqual(0);
    }
  });

  it('one grid step of overlap at spacing 0, on edges and on an arc', () => {
    const tight = { ...instance, spacing: 0, edgeMargin: 0 };
    const edge = checkLayout(tight, layout([at('A', 0, 0), at('B', 299.9999, 0), at('C', 700, 100)]));
    expect(edge.violations.map((v) => v.kind)).toEqual(['overlap']);
    const arc = checkLayout(tight, layout([at('A', 0, 0), at('B', 400, 0), at('C', 100, 249.9999)]));
    expect(arc.violations.map((v) => v.kind)).toEqual(['overlap']);
  });

  it('says where: the place of a breach lies between the two items', () => {
    const { violations } = checkLayout(instance, layout([A, at('B', 320, 15), C]));
    expect(violations[0]!.at!.x).toBeCloseTo(317.5, 9);
    expect(violations[0]).toMatchObject({ items: ['A', 'B'], board: 'sheet', amount: 5 });
  });

  it('a board with a bite out of it: what reaches into the bite lies outside', () => {
    const bitten = ring([
      { x: 0, y: 0, bulge: 0 },
      { x: 400, y: 0, bulge: -1 },
      { x: 600, y: 0, bulge: 0 },
      { x: 1000, y: 0, bulge: 0 },
      { x: 1000, y: 500, bulge: 0 },
      { x: 0, y: 500, bulge: 0 },
    ]);
    const one = (dy: number) =>
      checkLayout(
        {
          items: [item('A', rectangleRing(0, 0, 300, 200))],
          boards: [{ id: 'sheet', outline: bitten, keepOuts: [] }],
          spacing: 0,
          edgeMargin: 10,
        },
        layout([at('A', 350, dy)]),
      ).violations.map((v) => v.kind);
    expect(one(110)).toEqual([]);
    expect(one(109.9999)).toEqual(['edge-margin']);
    expect(one(50)).toEqual(['outside-board']);
  });

  it('an L: what reaches over its inner corner lies outside, and what comes near it is too near, one step off included', () => {
    const outline = polygonRing(
      [0, 0, 900, 0, 900, 200, 400, 200, 400, 500, 0, 500].flatMap((v, i, all) =>
        i % 2 ? [] : [{ x: v, y: all[i + 1]! }],
      ),
    );
    const plate = item('A', rectangleRing(0, 0, 300, 180));
    const kinds = (dx: number, dy: number, edgeMargin: number) =>
      checkLayout(
        { items: [plate], boards: [{ id: 'sheet', outline, keepOuts: [] }], spacing: 0, edgeMargin },
        layout([at('A', dx, dy)]),
      ).violations.map((v) => v.kind);
    expect(kinds(550, 10, 10)).toEqual([]);
    expect(kinds(550, 10.0001, 10)).toEqual(['edge-margin']);
    expect(kinds(90, 300, 10)).toEqual([]);
    expect(kinds(90.0001, 300, 10)).toEqual(['edge-margin']);
    // Touching the inner corner along both edges is no reaching out; a step more is.
    expect(kinds(400, 20, 0)).toEqual([]);
    expect(kinds(400, 20.0001, 0)).toEqual(['outside-board']);
    expect(kinds(100, 200, 0)).toEqual([]);
    expect(kinds(100.0001, 200, 0)).toEqual(['outside-board']);
    // Over the corner, with no corner of its own outside but one.
    expect(kinds(350, 150, 0)).toEqual(['outside-board']);
  });

  describe('a defect of one face', () => {
    const knot = circleRing({ x: 500, y: 200 }, 25);
    const shown = (shows: readonly ('up' | 'down')[], face: 'up' | 'down', dx: number, holes: Ring[] = []) =>
      checkLayout(
        {
          items: [{ ...item('A', rectangleRing(0, 0, 300, 200)), shows, holes }],
          boards: [
            {
              id: 'sheet',
              outline: rectangleRing(0, 0, 1000, 500),
              keepOuts: [],
              defects: [{ outline: knot, face }],
            },
          ],
          spacing: 10,
          edgeMargin: 10,
        },
        layout([at('A', dx, 100)]),
      );

    it('under an item that shows that face, from the first grid step on', () => {
      const report = shown(['up'], 'up', 300);
      expect(report.violations.map((v) => v.kind)).toEqual(['defect']);
      expect(report.violations[0]!.message).toContain('upper face of board sheet');
      // It may touch the knot, without any spacing; a step further it shows some of it.
      expect(shown(['up'], 'up', 175).violations).toEqual([]);
      const step = shown(['up'], 'up', 175.0001);
      expect(step.violations.map((v) => v.kind)).toEqual(['defect']);
      expect(step.violations[0]!.amount).toBeCloseTo(0.0001, 8);
      expect(shown(['down'], 'down', 525).violations).toEqual([]);
      expect(shown(['down'], 'down', 524.9999).violations.map((v) => v.kind)).toEqual(['defect']);
      expect(shown(['up', 'down'], 'down', 400).violations.map((v) => v.kind)).toEqual(['defect']);
    });

    it('but not under one that hides it, nor in a hole of one', () => {
      expect(shown(['down'], 'up', 300).violations).toEqual([]);
      expect(shown([], 'up', 300).violations).toEqual([]);
      const hole = circleRing({ x: 200, y: 100 }, 25);
      expect(shown(['up'], 'up', 300, [hole]).violations).toEqual([]);
      expect(shown(['up'], 'up', 300.0001, [hole]).violations.map((v) => v.kind)).toEqual(['defect']);
    });
  });

  it('refuses a spacing that is none', () =>
    expect(() => checkLayout({ ...instance, spacing: Number.NaN }, layout(good))).toThrow(RangeError));
});

describe('laws of the referee', () => {
  const place = fc.tuple(fc.integer({ min: 0, max: 9_000_000 }), fc.integer({ min: 0, max: 4_000_000 }));
  const kinds = (l: Layout, i = instance) =>
    checkLayout(i, l)
      .violations.map((v) => v.kind)
      .sort();

  it('moving the board with all that lies on it changes nothing', () =>
    fc.assert(
      fc.property(place, place, place, fc.integer({ min: -2000, max: 2000 }), (a, b, c, shift) => {
        const put = ([x, y]: readonly [number, number], id: string, s: number) =>
          at(id, x / 1e4 + s, y / 1e4);
        const here = [put(a, 'A', 0), put(b, 'B', 0), put(c, 'C', 0)];
        const there = [put(a, 'A', shift), put(b, 'B', shift), put(c, 'C', shift)];
        const moved = {
          ...instance,
          boards: [
            {
              id: 'sheet',
              outline: rectangleRing(shift, 0, 1000 + shift, 500),
              keepOuts: [circleRing({ x: 900 + shift, y: 400 }, 20)],
            },
          ],
        };
        expect(kinds(layout(there), moved)).toEqual(kinds(layout(here)));
      }),
    ));

  it('agrees with arithmetic for two rectangles', () =>
    fc.assert(
      fc.property(place, place, (a, b) => {
        const gapX = Math.abs(a[0] - b[0]) - 3_000_000;
        const gapY = Math.abs(a[1] - b[1]) - 2_000_000;
        const near =
          gapX < 0 && gapY < 0
            ? 'overlap'
            : Math.hypot(Math.max(0, gapX), Math.max(0, gapY)) < 100_000
              ? 'spacing'
              : null;
        const free = {
          ...instance,
          items: instance.items.slice(0, 2),
          boards: [{ id: 'sheet', outline: rectangleRing(-100, -100, 2000, 2000), keepOuts: [] }],
        };
        const put = layout([at('A', a[0] / 1e4, a[1] / 1e4), at('B', b[0] / 1e4, b[1] / 1e4)]);
        expect(kinds(put, free)).toEqual(near ? [near] : []);
      }),
      { numRuns: 300 },
    ));
});
