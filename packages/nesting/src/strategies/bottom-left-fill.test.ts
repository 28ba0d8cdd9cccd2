import {
  circleRing,
  flattenRing,
  loadClip,
  moveRing,
  polygonRing,
  type Ring,
  rectangleRing,
  ring,
  ringArea,
  snapRing,
} from '@haunch/geometry';
import type { Layout, NestingInstance, NestingItem } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../check-layout.js';
import { runNesting } from '../run-nesting.js';
import { seededRun } from '../ticks.js';
import { constructive } from './bottom-left-fill.js';

const clip = await loadClip();
const lay = (instance: NestingInstance, seed = 1, ticks = 150) =>
  runNesting(constructive, instance, constructive.defaults, seededRun(seed, ticks));
const all = (instance: NestingInstance, seed = 1, ticks = 150): Layout[] => [
  ...constructive.nest(instance, constructive.defaults, seededRun(seed, ticks)),
];
const QUARTERS = [0, Math.PI / 2, Math.PI, (3 * Math.PI) / 2];

const rectangle = fc
  .tuple(fc.integer({ min: 100, max: 5000 }), fc.integer({ min: 100, max: 5000 }))
  .map(([w, h]) => rectangleRing(0, 0, w / 10, h / 10));
/** Outlines of lines and arcs drawn anywhere, in either direction. */
const star: fc.Arbitrary<Ring> = fc
  .tuple(
    fc.array(fc.tuple(fc.integer({ min: 40, max: 200 }), fc.integer({ min: -1, max: 3 })), {
      minLength: 4,
      maxLength: 9,
    }),
    fc.integer({ min: -500, max: 500 }),
    fc.boolean(),
  )
  .map(([spokes, at, mirror]) => {
    const r = ring(
      spokes.map(([radius, b], i) => {
        const a = (2 * Math.PI * i) / spokes.length;
        return { x: at + radius * Math.cos(a), y: radius * Math.sin(a), bulge: b / 20 };
      }),
    );
    const there = moveRing({ mirror, turn: 0, dx: 0, dy: 0 }, snapRing(r));
    return mirror ? { vertices: [...there.vertices].reverse().map((v) => ({ ...v, bulge: 0 })) } : there;
  });
const itemOf = (outline: Ring, turns: readonly number[], i: number): NestingItem => ({
  id: `P/${i + 1}`,
  outline,
  turns,
  boards: ['sheet', 'off-cut'],
});
const sheet = (keepOuts: readonly Ring[] = []) => ({
  id: 'sheet',
  outline: rectangleRing(0, 0, 1200, 700),
  keepOuts,
});
/** An off-cut with a bite, a rounded corner and a sloping side. */
const offCut = {
  id: 'off-cut',
  outline: ring([
    { x: 0, y: 0, bulge: 0 },
    { x: 500, y: 0, bulge: -0.4 },
    { x: 700, y: 0, bulge: 0 },
    { x: 900, y: 0, bulge: 0 },
    { x: 850.5, y: 450.25, bulge: 0.3 },
    { x: 600, y: 600, bulge: 0 },
    { x: 300, y: 600, bulge: 0 },
    { x: 300, y: 300, bulge: 0 },
    { x: 0, y: 300, bulge: 0 },
  ]),
  keepOuts: [],
};
const instanceOf = (items: readonly NestingItem[], more: Partial<NestingInstance> = {}): NestingInstance => ({
  items,
  boards: [sheet()],
  spacing: 8,
  edgeMargin: 12,
  ...more,
});

/** Whether any two placed outlines share area, by the polygon kernel: a second opinion on the referee's. */
function commonArea(instance: NestingInstance, layout: Layout): number {
  const placed = layout.placements.map((p) => {
    const { outline } = instance.items.find((i) => i.id === p.item)!;
    return { board: p.board, polygon: flattenRing(moveRing(p.motion, outline), { tolerance: 0.01 }) };
  });
  let sum = 0;
  placed.forEach((a, i) => {
    for (const b of placed.slice(i + 1))
      if (a.board === b.board)
        for (const common of clip.intersection([a.polygon], [b.polygon]))
          sum +=
            common.length < 2 ? 0 : Math.abs(ringArea({ vertices: common.map((v) => ({ ...v, bulge: 0 })) }));
  });
  return sum;
}

describe('the constructive strategy', () => {
  it('lays rectangles validly, at any spacing', () =>
    fc.assert(
      fc.property(
        fc.array(rectangle, { minLength: 1, maxLength: 9 }),
        fc.constantFrom(0, 0.0001, 7.3, 10),
        fc.constantFrom(0, 3.3333, 15),
        (outlines, spacing, edgeMargin) => {
          const instance = instanceOf(
            outlines.map((o, i) => itemOf(o, QUARTERS, i)),
            { spacing, edgeMargin },
          );
          for (const layout of all(instance)) {
            expect(checkLayout(instance, layout).violations).toEqual([]);
            expect(commonArea(instance, layout)).toBe(0);
          }
        },
      ),
      { numRuns: 40 },
    ));

  it('lays outlines of lines and arcs validly, in odd turns, round keep-outs, on an off-cut that is no rectangle', () =>
    fc.assert(
      fc.property(
        fc.array(star, { minLength: 1, maxLength: 8 }),
        fc.constantFrom([0], QUARTERS, [0.3, 2, 4]),
        fc.constantFrom(0, 8),
        fc.constantFrom(0, 12),
        (outlines, turns, spacing, edgeMargin) => {
          const instance = instanceOf(
            outlines.map((o, i) => itemOf(o, turns, i)),
            {
              boards: [offCut, sheet([circleRing({ x: 500, y: 300 }, 60), rectangleRing(0, 600, 300, 700)])],
              spacing,
              edgeMargin,
            },
          );
          for (const layout of all(instance, 2, 60)) {
            expect(checkLayout(instance, layout).violations).toEqual([]);
            if (spacing > 0) expect(commonArea(instance, layout)).toBe(0);
          }
        },
      ),
      { numRuns: 40 },
    ));

  it('gives the same bytes for the same seed', () =>
    fc.assert(
      fc.property(fc.array(rectangle, { minLength: 2, maxLength: 9 }), fc.nat(1000), (outlines, seed) => {
        const instance = instanceOf(outlines.map((o, i) => itemOf(o, QUARTERS, i)));
        expect(JSON.stringify(all(instance, seed))).toBe(
          JSON.stringify(all(structuredClone(instance), seed)),
        );
      }),
      { numRuns: 20 },
    ));

  it('stays valid when the parts come in another order', () =>
    fc.assert(
      fc.property(
        fc.array(rectangle, { minLength: 2, maxLength: 8 }).chain((o) => {
          const items = o.map((outline, i) => itemOf(outline, [0, Math.PI / 2], i));
          return fc.shuffledSubarray(items, { minLength: items.length });
        }),
        (items) => {
          const instance = instanceOf(items);
          const { layout, report, diagnostics } = lay(instance);
          expect(diagnostics).toEqual([]);
          expect(report.valid).toBe(true);
          expect(layout.placements.map((p) => p.item)).toEqual(
            items.map((i) => i.id).filter((id) => !layout.unplaced.includes(id)),
          );
        },
      ),
      { numRuns: 20 },
    ));

  it('yields ever better layouts', () => {
    const outlines = [300, 250, 420, 180, 330, 90, 500, 210].map((w, i) =>
      rectangleRing(0, 0, w, 150 + 37 * (i % 4)),
    );
    const instance = instanceOf(outlines.map((o, i) => itemOf(o, QUARTERS, i)));
    const { improvements } = lay(instance, 5, 3000);
    expect(improvements).toBe(all(instance, 5, 3000).length);
    expect(improvements).toBeGreaterThan(1);
  });

  it('puts touching rectangles where nothing is to spare', () => {
    // Four quarters of the room, exactly.
    const quarter = rectangleRing(0, 0, 588, 338);
    const instance = instanceOf(
      [0, 1, 2, 3].map((i) => itemOf(quarter, [0], i)),
      { spacing: 0 },
    );
    expect(lay(instance).layout.unplaced).toEqual([]);
    const spaced = instanceOf([0, 1, 2, 3].map((i) => itemOf(rectangleRing(0, 0, 584, 334), [0], i)));
    expect(lay(spaced).layout.unplaced).toEqual([]);
    expect(lay(spaced).report.leastGap).toBeCloseTo(8, 9);
    const over = instanceOf([0, 1, 2, 3].map((i) => itemOf(rectangleRing(0, 0, 584.0001, 334), [0], i)));
    expect(lay(over).layout.unplaced).toHaveLength(2);
  });

  it('puts a tongue into a groove rather than beside it', () => {
    const groove = ring(
      [0, 0, 1100, 0, 1100, 600, 700, 600, 700, 200, 400, 200, 400, 600, 0, 600].flatMap((v, i, a) =>
        i % 2 ? [] : [{ x: v, y: a[i + 1]!, bulge: 0 }],
      ),
    );
    const instance = instanceOf([itemOf(groove, [0], 0), itemOf(rectangleRing(0, 0, 250, 380), [0], 1)]);
    expect(lay(instance).layout.unplaced).toEqual([]);
  });

  it('fills boards in order of preference, as many as are needed', () => {
    const boards = ['first', 'second', 'third'].map((id) => ({ ...sheet(), id }));
    const items = Array.from({ length: 6 }, (_, i) => ({
      ...itemOf(rectangleRing(0, 0, 580, 600), [0], i),
      boards: ['third', 'first', 'second'],
    }));
    const { layout } = lay(instanceOf(items.slice(0, 3), { boards }));
    expect(layout.placements.map((p) => p.board).sort()).toEqual(['first', 'first', 'second']);
    const more = lay(instanceOf([...items, { ...items[0]!, id: 'Q' }], { boards }));
    expect(more.layout.placements).toHaveLength(6);
    expect(more.layout.unplaced).toHaveLength(1);
  });

  it('uses the room of an off-cut that is no rectangle', () => {
    const items = [280, 280, 260, 240].map((w, i) => itemOf(rectangleRing(0, 0, w, 200), QUARTERS, i));
    const instance = instanceOf(items, { boards: [offCut] });
    const { layout, report } = lay(instance, 1, 2000);
    expect(layout.unplaced).toEqual([]);
    expect(report.use[0]!.share).toBeGreaterThan(0.5);
    // A disc in a round board with the margin: coarsening takes less than 3 mm.
    const round = { id: 'off-cut', outline: circleRing({ x: 0, y: 0 }, 300), keepOuts: [] };
    const disc = (radius: number) =>
      lay(instanceOf([itemOf(circleRing({ x: 0, y: 0 }, radius), [0], 0)], { boards: [round] })).layout
        .unplaced;
    expect(disc(285)).toEqual([]);
    expect(disc(288.0001)).toEqual(['P/1']);
  });

  it('keeps a part to the boards it may lie on', () => {
    const boards = [sheet(), { ...sheet(), id: 'other' }];
    const item = { ...itemOf(rectangleRing(0, 0, 100, 100), [0], 0), boards: ['other'] };
    expect(lay(instanceOf([item], { boards })).layout.placements[0]!.board).toBe('other');
  });

  it.each([
    ['no items', instanceOf([])],
    [
      'no boards',
      instanceOf([itemOf(rectangleRing(0, 0, 9, 9), [0], 0), itemOf(rectangleRing(0, 0, 9, 9), [0], 1)], {
        boards: [],
      }),
    ],
    ['a part larger than the board', instanceOf([itemOf(rectangleRing(0, 0, 1177, 9), [0], 0)])],
    [
      'a keep-out over the board',
      instanceOf([itemOf(rectangleRing(0, 0, 9, 9), [0], 0)], {
        boards: [sheet([rectangleRing(-1, -1, 1300, 800)])],
      }),
    ],
  ])('ends with everything unplaced for %s', (_, instance) => {
    const { layout, report } = lay(instance);
    expect(layout.placements).toEqual([]);
    expect(layout.unplaced).toEqual(instance.items.map((i) => i.id));
    expect(report.valid).toBe(true);
  });

  it('completes its first layout even without a single tick', () => {
    const items = [200, 300, 400].map((w, i) => itemOf(rectangleRing(0, 0, w, 100), [0], i));
    expect(lay(instanceOf(items), 1, 0).layout.unplaced).toEqual([]);
  });

  it('lays many at once by their hulls, whole and valid', () => {
    fc.assert(
      fc.property(fc.array(star, { minLength: 3, maxLength: 5 }), fc.nat(9), (stars, seed) => {
        const items = Array.from({ length: 60 }, (_, i) =>
          itemOf(
            moveRing({ mirror: false, turn: 0, dx: i, dy: 0 }, stars[i % stars.length]!),
            QUARTERS.slice(0, 1 + (i % 4)),
            i,
          ),
        );
        const boards = [
          { ...sheet([circleRing({ x: 300, y: 200 }, 90)]), outline: rectangleRing(0, 0, 9000, 3000) },
          offCut,
        ];
        const instance = instanceOf(items, { boards });
        const first = lay(instance, seed, 0);
        expect(first.report.valid).toBe(true);
        expect(first.layout.unplaced).toEqual([]);
      }),
      { numRuns: 2 },
    );
  });

  it('lays as they are, at once too, many that have no room as their hulls', () => {
    const hook = polygonRing([
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 1 },
      { x: 1, y: 1 },
      { x: 1, y: 10 },
      { x: 0, y: 10 },
    ]);
    const items = Array.from({ length: 60 }, (_, i) => itemOf(hook, [0], i));
    const boards = [{ ...sheet(), outline: rectangleRing(0, 0, 300, 12) }];
    const { layout, report } = lay(instanceOf(items, { boards, spacing: 0, edgeMargin: 0 }), 1, 0);
    expect(report.valid).toBe(true);
    expect(layout.unplaced).toEqual([]);
  });
});
