import type { Point } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaInWindow } from './overlap.js';

const box = (x0: number, y0: number, x1: number, y1: number): Point[] => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];

describe('the area in a window', () => {
  it('of a concave polygon leaves out what runs along the border', () => {
    // A U of 10 × 10 with a gap 4 wide and 8 deep; the window lies over both legs and the gap.
    const u = [
      [0, 0],
      [10, 0],
      [10, 10],
      [7, 10],
      [7, 2],
      [3, 2],
      [3, 10],
      [0, 10],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    expect(areaInWindow({ outer: u, voids: [] }, box(0, 4, 10, 6))).toBeCloseTo(12, 9);
    expect(areaInWindow({ outer: u, voids: [] }, box(3, 4, 7, 6))).toBeCloseTo(0, 9);
  });

  it('is less its voids, and the window may be drawn in either sense', () => {
    const area = { outer: box(0, 0, 10, 10), voids: [box(2, 2, 4, 4)] };
    expect(areaInWindow(area, box(0, 0, 3, 3))).toBeCloseTo(8, 9);
    expect(areaInWindow(area, [...box(0, 0, 3, 3)].reverse())).toBeCloseTo(8, 9);
  });

  it('adds up over windows that tile the plane', () => {
    const c = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(c, c, (x, y) => {
        const area = { outer: box(0, 0, 10, 10), voids: [box(2, 2, 4, 4)] };
        const tiles = [box(-1, -1, x, y), box(x, -1, 11, y), box(-1, y, x, 11), box(x, y, 11, 11)];
        expect(tiles.reduce((sum, t) => sum + areaInWindow(area, t), 0)).toBeCloseTo(96, 6);
      }),
    );
  });
});
