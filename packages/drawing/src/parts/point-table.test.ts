import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellTable, pointTable } from './point-table.js';

const place = fc.record({
  x: fc.integer({ min: -10_000_000_000, max: 10_000_000_000 }).map((v) => v / 10_000),
  y: fc.integer({ min: -30, max: 30 }).map((v) => v / 10_000),
});

describe('pointTable', () => {
  it('numbers places as a list of their words would', () => {
    fc.assert(
      fc.property(fc.array(place, { maxLength: 200 }), fc.nat(), (places, k) => {
        const all = [...places, ...places.slice(0, k % (places.length + 1))];
        const table = pointTable(all.length);
        const words: string[] = [];
        for (const p of all) {
          const word = `${p.x + 0},${p.y + 0}`;
          if (!words.includes(word)) words.push(word);
          expect(table.number(p)).toBe(words.indexOf(word));
        }
        expect(table.places.length).toBe(words.length);
      }),
    );
  });
});

describe('cellTable', () => {
  it('gives back what was put into a cell, and nothing else', () => {
    const cell = fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -4, max: 4 }));
    fc.assert(
      fc.property(fc.array(cell, { maxLength: 100 }), cell, (cells, [x, y]) => {
        const table = cellTable(Math.max(1, cells.length));
        cells.forEach(([cx, cy], i) => {
          table.add(cx, cy, i);
        });
        const seen: number[] = [];
        table.visit(x, y, (i) => seen.push(i));
        const put = cells.flatMap(([cx, cy], i) => (cx === x && cy === y ? [i] : []));
        expect(seen.sort((a, b) => a - b)).toEqual(put);
      }),
    );
  });
});
