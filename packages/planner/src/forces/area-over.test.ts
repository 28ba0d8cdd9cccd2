import { circleRing, polygonRing, rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOver } from './area-over.js';

describe('what of a ring lies over rectangles', () => {
  it('is a rectangle’s overlap, reckoned by its sides', () =>
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 150 }), { minLength: 4, maxLength: 4 }),
        ([a, b, c, d]) => {
          const side = (p: number, q: number): number =>
            Math.max(0, Math.min(100, Math.max(p, q)) - Math.max(0, Math.min(p, q)));
          expect(areaOver(rectangleRing(0, 0, 100, 100), [[a!, b!, c!, d!]])).toBeCloseTo(
            side(a!, c!) * side(b!, d!),
            6,
          );
        },
      ),
    ));

  it('is half of a circle on one side of its middle, and a quarter on two', () => {
    const circle = circleRing({ x: 0, y: 0 }, 50);
    expect(areaOver(circle, [[0, -99, 99, 99]]) / ((Math.PI * 2500) / 2)).toBeCloseTo(1, 2);
    expect(areaOver(circle, [[0, 0, 99, 99]]) / ((Math.PI * 2500) / 4)).toBeCloseTo(1, 2);
  });

  it('leaves out what a notch takes away', () => {
    const u = polygonRing([
      { x: 0, y: 0 },
      { x: 30, y: 0 },
      { x: 30, y: 30 },
      { x: 20, y: 30 },
      { x: 20, y: 10 },
      { x: 10, y: 10 },
      { x: 10, y: 30 },
      { x: 0, y: 30 },
    ]);
    expect(areaOver(u, [[-5, 15, 35, 25]])).toBeCloseTo(200, 6);
  });

  it('is never more than the ring encloses, and nothing beside it', () => {
    const square = rectangleRing(0, 0, 10, 10);
    expect(
      areaOver(square, [
        [0, 0, 10, 10],
        [0, 0, 10, 10],
      ]),
    ).toBe(100);
    expect(areaOver(square, [[20, 0, 30, 10]])).toBe(0);
  });
});
