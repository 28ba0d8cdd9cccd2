import { circleRing, type Point, pointInRing, polygonRing, rectangleRing, ring } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { missingOf } from './missing-of.js';

const polygon = (...at: readonly (readonly [number, number])[]) =>
  polygonRing(at.map(([x, y]) => ({ x, y })));
const area = (boxes: readonly { minX: number; minY: number; maxX: number; maxY: number }[]) =>
  boxes.reduce((sum, b) => sum + (b.maxX - b.minX) * (b.maxY - b.minY), 0);

describe('what an outline lacks of its box', () => {
  it('is nothing for a rectangle', () => expect(missingOf(rectangleRing(0, 0, 900, 400))).toEqual([]));

  it('is one box for an L, to the last step, whichever way round it is drawn', () => {
    const bend = [
      [0, 0],
      [900, 0],
      [900, 150.0001],
      [300, 150.0001],
      [300, 400],
      [0, 400],
    ] as const;
    const missing = [{ minX: 300, minY: 150.0001, maxX: 900, maxY: 400 }];
    expect(missingOf(polygon(...bend))).toEqual(missing);
    expect(missingOf(polygon(...[...bend].reverse()))).toEqual(missing);
  });

  it('is two boxes beside the stem of a T and one within a U', () => {
    expect(
      missingOf(
        polygon([0, 200], [0, 300], [500, 300], [500, 200], [300, 200], [300, 0], [200, 0], [200, 200]),
      ),
    ).toEqual([
      { minX: 0, minY: 0, maxX: 200, maxY: 200 },
      { minX: 300, minY: 0, maxX: 500, maxY: 200 },
    ]);
    expect(
      missingOf(
        polygon([0, 0], [500, 0], [500, 300], [300, 300], [300, 100], [200, 100], [200, 300], [0, 300]),
      ),
    ).toEqual([{ minX: 200, minY: 100, maxX: 300, maxY: 300 }]);
  });

  it('covers all beside a slope and a bow, and little more with thinner slices', () => {
    const slope = polygon([0, 0], [400, 0], [0, 400]);
    expect(area(missingOf(slope))).toBeGreaterThan(80_000);
    expect(area(missingOf(slope, 1))).toBeLessThan(80_500);
    const round = missingOf(circleRing({ x: 100, y: 100 }, 100), 1);
    expect(area(round)).toBeGreaterThan(40_000 - Math.PI * 10_000);
    expect(area(round)).toBeLessThan(40_000 - Math.PI * 10_000 + 1600);
    const bitten = ring([
      { x: 0, y: 0, bulge: 0 },
      { x: 400, y: 0, bulge: -1 },
      { x: 600, y: 0, bulge: 0 },
      { x: 1000, y: 0, bulge: 0 },
      { x: 1000, y: 500, bulge: 0 },
      { x: 0, y: 500, bulge: 0 },
    ]);
    const bite = missingOf(bitten);
    expect(Math.max(...bite.map((b) => b.maxY))).toBeCloseTo(100.05, 6);
    expect(Math.min(...bite.map((b) => b.minX))).toBeCloseTo(399.95, 6);
  });

  it('covers all of a jagged edge of a thousand corners by few boxes', () => {
    const teeth = Array.from({ length: 1000 }, (_, k) => [1200 - k, 700 + ((k * 37) % 101)] as const);
    const jagged = polygon([0, 0], [1200, 0], ...teeth, [0, 700]);
    const boxes = missingOf(jagged);
    expect(boxes.length).toBeLessThanOrEqual(300);
    // Below the lowest tooth there is board.
    expect(Math.min(...boxes.map((b) => b.minY))).toBeGreaterThanOrEqual(699);
    const covered = (p: Point): boolean =>
      boxes.some((b) => p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY);
    for (let x = 0.5; x < 1200; x += 7.3)
      for (let y = 690.5; y < 800; y += 3.1)
        if (pointInRing(jagged, { x, y }) === 'outside') expect(covered({ x, y })).toBe(true);
  });
});
