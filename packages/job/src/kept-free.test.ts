import { rectangleRing, ringBounds } from '@haunch/geometry';
import type { Board } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { keptFree, takingRoom, trimKerfs, withoutTrims } from './kept-free.js';

const board: Board = {
  id: 'b',
  stock: 'b',
  thickness: 18,
  readings: [],
  outline: rectangleRing(0, 0, 1000, 500),
  grain: 'x',
  keepOuts: [],
  trims: [
    { along: 'y', at: 800, waste: 'above' },
    { along: 'x', at: 20, waste: 'below' },
  ],
};
const router = { kind: 'router', diameter: 6, fluteLength: 25 } as const;
const shop = { router, cutters: [router], machine: {} };

describe('what a layout keeps free', () => {
  it('is a line along the middle of every trimming cut, on the side where its waste lies', () => {
    expect(trimKerfs(board, shop)).toEqual([
      { minX: 800, maxX: 806, minY: 0, maxY: 500 },
      { minX: 0, maxX: 1000, minY: 14, maxY: 20 },
    ]);
    expect(keptFree(board, shop).map(ringBounds)).toEqual([
      { minX: 802.95, maxX: 803.05, minY: 0, maxY: 500 },
      { minX: 0, maxX: 1000, minY: 16.95, maxY: 17.05 },
    ]);
    expect(keptFree(withoutTrims(board), shop)).toEqual([]);
  });

  it('reckons with the widest router that reaches through the sheet, and no other', () => {
    const cutters = [
      router,
      { kind: 'router', diameter: 12, fluteLength: 30 },
      { kind: 'router', diameter: 20, fluteLength: 10 },
    ] as const;
    expect(trimKerfs(board, { ...shop, cutters })[0]).toMatchObject({ minX: 800, maxX: 812 });
  });

  it('keeps the hood off keep-outs as the cutter would keep off without one', () => {
    const pod = { ...withoutTrims(board), keepOuts: [rectangleRing(100, 100, 120, 120)] };
    expect(keptFree(pod, shop)).toEqual(pod.keepOuts);
    const [grown] = keptFree(pod, { ...shop, machine: { hoodRadius: 33 } });
    expect(ringBounds(grown!)).toEqual({ minX: 70, minY: 70, maxX: 150, maxY: 150 });
    expect(takingRoom([withoutTrims(board)], { hoodRadius: 33 })).toEqual([]);
    expect(takingRoom([board, pod], { hoodRadius: 33 })).toEqual([
      'keep-outs (screws, pins, zones) with a hood of 33 mm',
      'trimming cuts',
    ]);
    const flawed = { ...withoutTrims(board), defects: [{ outline: pod.keepOuts[0]!, face: 'up' as const }] };
    expect(takingRoom([flawed], { hoodRadius: 33 })).toEqual(['flaws of faces that are seen']);
  });
});
