import { circleRing, polygonRing, rectangleRing } from '@haunch/geometry';
import type { Layout, LyingFace, NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../check-layout.js';
import { seededRun } from '../ticks.js';
import { commonArea } from '../trial/common-area.js';
import { constructive } from './bottom-left-fill.js';
import { overlapMinimising } from './overlap-minimising.js';

const TURNS = [0, Math.PI / 2, Math.PI, 1.5 * Math.PI];
const hook = polygonRing([
  { x: 0, y: 0 },
  { x: 160, y: 0 },
  { x: 160, y: 50 },
  { x: 50, y: 50 },
  { x: 50, y: 120 },
  { x: 0, y: 120 },
]);
/** An L of 700 × 500 with arms 260 and 300 wide. */
const bend = polygonRing([
  { x: 0, y: 0 },
  { x: 700, y: 0 },
  { x: 700, y: 260 },
  { x: 300, y: 260 },
  { x: 300, y: 500 },
  { x: 0, y: 500 },
]);
const parts = (shows: readonly (readonly LyingFace[])[]) =>
  shows.map((s, i) => ({
    id: `p-${i + 1}`,
    outline: i % 2 === 0 ? hook : rectangleRing(0, 0, 140, 90),
    turns: TURNS,
    boards: ['rest', 'sheet'],
    shows: s,
  }));
const instanceOf = (
  shows: readonly (readonly LyingFace[])[],
  knots: readonly (readonly [number, number])[],
  spacing = 8,
): NestingInstance => ({
  items: parts(shows),
  boards: [
    {
      id: 'rest',
      outline: bend,
      keepOuts: [circleRing({ x: 650, y: 50 }, 20)],
      defects: knots.map(([x, y], i) => ({
        outline: circleRing({ x, y }, 25),
        face: i % 2 === 0 ? 'up' : 'down',
      })),
    },
    { id: 'sheet', outline: rectangleRing(0, 0, 900, 400), keepOuts: [] },
  ],
  spacing,
  edgeMargin: 10,
});
const ways: readonly [string, (i: NestingInstance, seed: number) => Layout[]][] = [
  ['bottom-left-fill', (i, seed) => [...constructive.nest(i, constructive.defaults, seededRun(seed, 60))]],
  [
    'overlap-minimising',
    (i, seed) => [
      ...overlapMinimising.nest(i, { ...overlapMinimising.defaults, start: 0.1 }, seededRun(seed, 120)),
    ],
  ],
];

describe.each(ways)('%s', (_, layouts) => {
  it('keeps what is seen off knots, on an L with a clamp', () => {
    const faces = fc.constantFrom<readonly LyingFace[]>([], ['up'], ['down'], ['up', 'down']);
    const place = fc.tuple(fc.integer({ min: 10, max: 690 }), fc.integer({ min: 10, max: 490 }));
    fc.assert(
      fc.property(
        fc.array(faces, { minLength: 2, maxLength: 5 }),
        fc.array(place, { minLength: 1, maxLength: 3 }),
        fc.constantFrom(0, 8),
        fc.nat(100),
        (shows, knots, spacing, seed) => {
          const instance = instanceOf(shows, knots, spacing);
          for (const layout of layouts(instance, seed)) {
            expect(checkLayout(instance, layout).violations).toEqual([]);
            expect(commonArea(instance, layout)).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 6 },
    );
  });

  it('lays what hides a knot over it, and what shows it beside, on a board with room for one of each', () => {
    const board = {
      id: 'sheet',
      outline: rectangleRing(0, 0, 328, 110),
      keepOuts: [],
      defects: [{ outline: circleRing({ x: 80, y: 55 }, 20), face: 'up' as const }],
    };
    const item = (id: string, shows: readonly LyingFace[]) => ({
      id,
      outline: rectangleRing(0, 0, 150, 90),
      turns: [0],
      boards: ['sheet'],
      shows,
    });
    for (const items of [
      [item('seen', ['up']), item('hidden', ['down'])],
      [item('hidden', ['down']), item('seen', ['up'])],
      [item('seen', ['up']), item('plain', [])],
    ]) {
      const last = layouts({ items, boards: [board], spacing: 8, edgeMargin: 10 }, 1).at(-1)!;
      expect(last.unplaced).toEqual([]);
      expect(last.placements.find((p) => p.item === 'seen')!.motion.dx).toBeGreaterThan(100);
    }
  });
});
