import { rectangleRing } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../../check-layout.js';
import { seededRandom } from '../../seeded-random.js';
import { seededRun, ticks } from '../../ticks.js';
import { overlapMinimising } from '../overlap-minimising.js';
import { orderSlabs } from './order-slabs.js';
import { fillStrip, type Slab, type Slabs, slabsFor } from './skyline.js';

const slab = fc.record({
  long: fc.integer({ min: 1, max: 12 }),
  wide: fc.integer({ min: 1, max: 10 }),
  turns: fc.boolean(),
});

function boxesOf(slabs: readonly Slab[], s: Slabs) {
  return slabs.map(({ long, wide }, i) => {
    const [l, w] = s.turned[i] ? [wide, long] : [long, wide];
    return { x0: s.along[i]!, y0: s.across[i]!, x1: s.along[i]! + l, y1: s.across[i]! + w };
  });
}

describe('a strip filled with slabs', () => {
  it('has them all within it and none on another, in any order', () => {
    fc.assert(
      fc.property(fc.array(slab, { minLength: 1, maxLength: 14 }), fc.nat(), (slabs, seed) => {
        const random = seededRandom(seed);
        const order = Int32Array.from(slabs.keys()).sort(() => random() - 0.5);
        const lying = slabsFor(slabs.length);
        expect(fillStrip(slabs, order, 10, 7, lying)).toBe(true);
        const boxes = boxesOf(slabs, lying);
        boxes.forEach((a, i) => {
          expect(a.y0 >= 0 && a.y1 <= 10 && a.x0 >= 0).toBe(true);
          expect(slabs[i]!.turns || !lying.turned[i]).toBe(true);
          for (const b of boxes.slice(0, i))
            expect(a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1).toBe(false);
        });
        expect(lying.length).toBe(Math.max(...boxes.map((b) => b.x1)));
        expect(lying.beyond).toBe(
          boxes.reduce((s, b) => s + (b.y1 - b.y0) * Math.max(0, b.x1 - Math.max(7, b.x0)), 0),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('is not begun where a slab is too wide', () =>
    expect(fillStrip([{ long: 3, wide: 11, turns: false }], Int32Array.of(0), 10, 1, slabsFor(1))).toBe(
      false,
    ));
});

describe('orders of slabs', () => {
  const cut = [
    [4, 6],
    [4, 4],
    [3, 2],
    [3, 8],
    [5, 7],
    [2, 3],
    [3, 3],
  ].map(([long, wide]) => ({ long: long!, wide: wide!, turns: true }));

  it('get shorter and shorter, down to no waste where the slabs were cut from a strip', () => {
    const lengths = [...orderSlabs(cut, 10, 12, { random: seededRandom(1), tick: ticks(20_000) })].map(
      (s) => s.length,
    );
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    expect(lengths.at(-1)).toBe(12);
  });

  it('end with the budget', () =>
    expect([...orderSlabs(cut, 10, 1, { random: seededRandom(1), tick: ticks(300) })].length).toBeGreaterThan(
      0,
    ));
});

describe('rectangles on one board', () => {
  const instance = (spacing: number): NestingInstance => ({
    items: [
      [400, 300],
      [400, 300],
      [590, 240],
      [590, 360],
    ].map(([w, h], i) => ({
      id: `shelf-${i + 1}`,
      outline: rectangleRing(0, 0, w! - spacing, h! - spacing),
      turns: [0, Math.PI / 2],
      boards: ['sheet'],
    })),
    boards: [{ id: 'sheet', outline: rectangleRing(0, 0, 2440, 620), keepOuts: [] }],
    spacing,
    edgeMargin: 10,
  });
  it('keep spacing and margin and lie as short as can be', () => {
    for (const spacing of [0, 8]) {
      const i = instance(spacing);
      const layout = [...overlapMinimising.nest(i, overlapMinimising.defaults, seededRun(1, 900))].at(-1)!;
      expect(checkLayout(i, layout).violations).toEqual([]);
      expect(layout.unplaced).toEqual([]);
      const ends = layout.placements.map((p) => {
        const { outline } = i.items.find(({ id }) => id === p.item)!;
        // Turned by a quarter, it lies to the left of its origin.
        return p.motion.dx + (p.motion.turn === 0 ? outline.vertices[1]!.x : 0);
      });
      expect(Math.max(...ends)).toBeLessThanOrEqual(10 + 990 + 1e-3);
    }
  });
});
