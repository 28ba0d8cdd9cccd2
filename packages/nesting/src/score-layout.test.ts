import { polygonRing, rectangleRing, STAY } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instanceProblems } from './instance-problems.js';
import { compareScores, largestEmptyRectangle, scoreLayout } from './score-layout.js';

const board = (id: string, w: number, h: number) => ({
  id,
  outline: rectangleRing(0, 0, w, h),
  keepOuts: [],
});
const instance: NestingInstance = {
  items: ['A', 'B', 'C'].map((id) => ({
    id,
    outline: rectangleRing(0, 0, 100, 50),
    turns: [0],
    boards: ['one', 'two'],
  })),
  boards: [board('one', 1000, 100), board('two', 1000, 100)],
  spacing: 10,
  edgeMargin: 0,
};
const layout = (...at: readonly (readonly [string, number, number])[]): Layout => ({
  kind: 'layout',
  placements: at.map(([b, dx, dy], i) => ({ item: 'ABC'[i]!, board: b, motion: { ...STAY, dx, dy } })),
  unplaced: ['A', 'B', 'C'].slice(at.length),
});

describe('scoreLayout', () => {
  it('counts what is unplaced, the used part of the last board, and the remnant', () =>
    expect(scoreLayout(instance, layout(['one', 0, 0], ['one', 110, 0]))).toEqual({
      unplacedArea: 5000,
      extent: 21_000,
      remnant: 78_000,
    }));

  it('counts a full board whole and the last one by its used part', () =>
    expect(scoreLayout(instance, layout(['one', 0, 0], ['one', 900, 0], ['two', 0, 0])).extent).toBe(
      110_000,
    ));

  it('counts a board by its cost', () => {
    const cheap = { ...instance, boards: [{ ...instance.boards[0]!, cost: 0.25 }, instance.boards[1]!] };
    // The strip that costs more is spared: 900 × 100 of the second board.
    expect(scoreLayout(cheap, layout(['one', 0, 0], ['two', 0, 0])).extent).toBe(25_000 + 10_000);
    expect(scoreLayout(cheap, layout(['one', 0, 0])).extent).toBe(2500);
    expect(() => instanceProblems({ ...instance, boards: [{ ...cheap.boards[0]!, cost: 0 }] })).toThrow(
      'board one costs 0',
    );
  });

  it('looks for a remnant within the outline of a board that is no rectangle', () => {
    // The right half is only 40 high, so that the box above it is no board.
    const outline = polygonRing(
      [
        [0, 0],
        [1000, 0],
        [1000, 40],
        [500, 40],
        [500, 100],
        [0, 100],
      ].map(([x, y]) => ({ x: x!, y: y! })),
    );
    const bent = { ...instance, boards: [{ ...instance.boards[0]!, outline }] };
    expect(scoreLayout(bent, layout(['one', 0, 0])).remnant).toBe(Math.max(390 * 100, 890 * 40));
    expect(scoreLayout(bent, layout(['one', 0, 0], ['one', 400, 0])).remnant).toBe((390 - 110) * 100);
  });

  it('is 0 in extent for nothing placed', () =>
    expect(scoreLayout(instance, layout())).toEqual({ unplacedArea: 15_000, extent: 0, remnant: 0 }));

  it('is compared by unplaced area, then extent, then remnant', () => {
    const s = { unplacedArea: 1, extent: 5, remnant: 5 };
    expect(compareScores(s, s)).toBe(0);
    expect(compareScores({ ...s, unplacedArea: 0, extent: 9 }, s)).toBeLessThan(0);
    expect(compareScores({ ...s, extent: 4, remnant: 0 }, s)).toBeLessThan(0);
    expect(compareScores({ ...s, remnant: 4 }, s)).toBeGreaterThan(0);
  });
});

describe('largestEmptyRectangle', () => {
  const SIDE = 12;
  /** Every rectangle of a small grid, one after the other. */
  const byHand = (boxes: readonly number[][]): number => {
    let best = 0;
    for (let x0 = 0; x0 < SIDE; x0++)
      for (let x1 = x0 + 1; x1 <= SIDE; x1++)
        for (let y0 = 0; y0 < SIDE; y0++)
          for (let y1 = y0 + 1; y1 <= SIDE; y1++)
            if (boxes.every(([a, b, c, d]) => a! >= x1 || c! <= x0 || b! >= y1 || d! <= y0))
              best = Math.max(best, (x1 - x0) * (y1 - y0));
    return best;
  };
  const box = fc
    .tuple(fc.nat(10), fc.nat(10), fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 }))
    .map(([x, y, w, h]) => [x, y, x + w, y + h]);

  it('finds what trying every rectangle finds', () =>
    fc.assert(
      fc.property(fc.array(box, { maxLength: 5 }), (boxes) => {
        const room = { minX: 0, minY: 0, maxX: SIDE, maxY: SIDE };
        const given = boxes.map(([minX, minY, maxX, maxY]) => ({
          minX: minX!,
          minY: minY!,
          maxX: maxX!,
          maxY: maxY!,
        }));
        const empty = largestEmptyRectangle(room, given);
        const area = empty ? (empty.maxX - empty.minX) * (empty.maxY - empty.minY) : 0;
        expect(area).toBe(byHand(boxes));
        for (const g of empty ? given : [])
          expect(
            g.minX < empty!.maxX && g.maxX > empty!.minX && g.minY < empty!.maxY && g.maxY > empty!.minY,
          ).toBe(false);
      }),
    ));
});
