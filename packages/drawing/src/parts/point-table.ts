import { GRID, type Point } from '@haunch/geometry';

/** Numbers places: equal places on the grid get the same number, counted from 0 in the order of their coming. */
export interface PointTable {
  number(p: Point): number;
  readonly places: readonly Point[];
}

const mix = (a: number, b: number): number => {
  const low = Math.imul(a | 0, 0x9e3779b1) ^ Math.imul(b | 0, 0x85ebca6b);
  const high = Math.imul((a / 4294967296) | 0, 0xc2b2ae35) ^ Math.imul((b / 4294967296) | 0, 0x27d4eb2f);
  const h = low ^ high ^ (low >>> 15);
  return (Math.imul(h, 0x2c1b3c6d) ^ (h >>> 13)) >>> 0;
};

/** A table for up to `most` different places; takes the same time for each, however many there are. */
export function pointTable(most: number): PointTable {
  let size = 16;
  while (size < 2 * most) size *= 2;
  const slots = new Int32Array(size).fill(-1);
  const xs = new Float64Array(most);
  const ys = new Float64Array(most);
  const places: Point[] = [];
  return {
    places,
    number(p) {
      const [x, y] = [Math.round(p.x / GRID), Math.round(p.y / GRID)];
      for (let i = mix(x, y) & (size - 1); ; i = (i + 1) & (size - 1)) {
        const n = slots[i]!;
        if (n < 0) {
          const own = places.length;
          slots[i] = own;
          xs[own] = x;
          ys[own] = y;
          places.push({ x: p.x, y: p.y });
          return own;
        }
        if (xs[n] === x && ys[n] === y) return n;
      }
    },
  };
}

/** Numbers in the order in which they were put in, by a pair of whole numbers. */
export interface CellTable {
  add(x: number, y: number, item: number): void;
  visit(x: number, y: number, see: (item: number) => void): void;
}

/** A table of up to `most` items in cells of a grid. */
export function cellTable(most: number): CellTable {
  let size = 16;
  while (size < 2 * most) size *= 2;
  const head = new Int32Array(size).fill(-1);
  const next = new Int32Array(most);
  const items = new Int32Array(most);
  const xs = new Float64Array(most);
  const ys = new Float64Array(most);
  let count = 0;
  return {
    add(x, y, item) {
      const slot = mix(x, y) & (size - 1);
      items[count] = item;
      xs[count] = x;
      ys[count] = y;
      next[count] = head[slot]!;
      head[slot] = count++;
    },
    visit(x, y, see) {
      for (let i = head[mix(x, y) & (size - 1)]!; i >= 0; i = next[i]!)
        if (xs[i] === x && ys[i] === y) see(items[i]!);
    },
  };
}
