import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inscribedCircle } from './inscribed-circle.js';
import { inscribedWidth } from './inscribed-width.js';
import { largestCutter } from './largest-cutter.js';
import { offsetRing } from './offset-ring.js';
import { circleRing, polygonRing, rectangleRing } from './ring.js';
import { pointRingDistance } from './segment-distance.js';

describe('largestCutter', () => {
  it('is a slot’s width, and a circle’s diameter', () => {
    expect(largestCutter(rectangleRing(0, 0, 80, 17.8))).toBeCloseTo(17.8, 3);
    expect(largestCutter(circleRing({ x: 3, y: 4 }, 10))).toBeCloseTo(20, 3);
  });

  it('is that of the narrow arm where a pocket has one, while room is found for a larger', () => {
    // A square of 40 with an arm 8 wide and 30 long.
    const arm = polygonRing(
      [
        [0, 0],
        [40, 0],
        [40, 16],
        [70, 16],
        [70, 24],
        [40, 24],
        [40, 40],
        [0, 40],
      ].map(([x, y]) => ({ x: x!, y: y! })),
    );
    expect(largestCutter(arm)).toBeCloseTo(8, 3);
    // The circle against the far side may bulge into the arm's mouth: (40 + 8²/(8·…)) at least 40.
    expect(inscribedWidth(arm)).toBeGreaterThan(39.99);
  });

  it('is that of a neck between parts of the same sides', () => {
    // A tooth comes down to 8 above the lower side, which stays one side on either hand of it.
    const tooth = polygonRing(
      [
        [0, 0],
        [100, 0],
        [100, 20],
        [55, 20],
        [50, 8],
        [45, 20],
        [0, 20],
      ].map(([x, y]) => ({ x: x!, y: y! })),
    );
    expect(largestCutter(tooth)).toBeCloseTo(8, 3);
  });

  it('is bounded by a hollow corner’s radius', () => {
    const [rounded] = offsetRing(rectangleRing(0, 0, 60, 40), { by: 5 });
    expect(largestCutter(rounded!)).toBeCloseTo(10, 3);
  });

  it('is never more than the largest circle with room', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 5, max: 50, noNaN: true }), { minLength: 5, maxLength: 9 }),
        (radii) => {
          const star = polygonRing(
            radii.map((r, i) => ({
              x: r * Math.cos((2 * Math.PI * i) / radii.length),
              y: r * Math.sin((2 * Math.PI * i) / radii.length),
            })),
          );
          expect(largestCutter(star)).toBeLessThanOrEqual(inscribedWidth(star) + 1e-4);
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe('inscribedCircle', () => {
  it('keeps clear of the holes of a region, and touches', () => {
    const outer = rectangleRing(0, 0, 100, 60);
    const hole = circleRing({ x: 30, y: 30 }, 10);
    const circle = inscribedCircle({ outer, holes: [hole] })!;
    // Right of the hole: the whole height is free.
    expect(circle.radius).toBeCloseTo(30, 3);
    expect(pointRingDistance(outer, circle.centre)).toBeCloseTo(circle.radius, 4);
    expect(pointRingDistance(hole, circle.centre)).toBeGreaterThan(circle.radius - 1e-4);
  });
});
