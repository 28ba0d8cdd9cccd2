import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tablePages } from './table-pages.js';

describe('the pages of a table', () => {
  it('hold every row once, in order, and no block higher than its page but for a single row', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 3, max: 40 }), { minLength: 1, maxLength: 120 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 10, max: 200 }),
        (heights, blocks, first) => {
          const next = 200;
          const pages = tablePages(heights, { blocks, first, next });
          const runs = pages.flat();
          expect(runs.flatMap(([a, b]) => heights.slice(a, b))).toEqual(heights);
          for (const [k, page] of pages.entries()) {
            expect(page.length).toBeLessThanOrEqual(blocks);
            for (const [a, b] of page) {
              const height = heights.slice(a, b).reduce((sum, h) => sum + h, 0);
              expect(b).toBeGreaterThan(a);
              expect(b - a === 1 || height <= (k === 0 ? first : next)).toBe(true);
            }
          }
        },
      ),
    );
  });

  it('share what fits on one evenly among its blocks', () => {
    const pages = tablePages(Array<number>(7).fill(5), { blocks: 2, first: 100, next: 100 });
    expect(pages).toEqual([
      [
        [0, 4],
        [4, 7],
      ],
    ]);
  });
});
