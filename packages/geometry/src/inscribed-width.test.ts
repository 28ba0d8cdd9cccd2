import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, gridNumber, starRing } from '../test/arbitraries.js';
import { inscribedWidth } from './inscribed-width.js';
import { circleRing, polygonRing, rectangleRing, ring, ringSegments } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { pointInRing } from './ring-contains.js';
import { pointAlong } from './segment-course.js';
import { pointRingDistance } from './segment-distance.js';
import { moveRing } from './transform.js';

const WITHIN = 1e-4;

describe('inscribedWidth', () => {
  it('is the narrow side of a rectangle and the diameter of a circle and of a stadium, however they lie', () => {
    fc.assert(
      fc.property(gridNumber(0.5, 80), gridNumber(0.5, 80), gridNumber(-3, 3), (a, b, turn) => {
        const there = { mirror: false, turn, dx: 500, dy: 300 };
        expect(
          Math.abs(inscribedWidth(moveRing(there, rectangleRing(0, 0, a, b))) - Math.min(a, b)),
        ).toBeLessThan(WITHIN);
        expect(Math.abs(inscribedWidth(moveRing(there, circleRing({ x: 0, y: 0 }, a))) - 2 * a)).toBeLessThan(
          WITHIN,
        );
        const stadium = ring([
          { x: 0, y: 0, bulge: 0 },
          { x: b, y: 0, bulge: 1 },
          { x: b, y: a, bulge: 0 },
          { x: 0, y: a, bulge: 1 },
        ]);
        expect(Math.abs(inscribedWidth(moveRing(there, stadium)) - a)).toBeLessThan(WITHIN);
      }),
      { numRuns: 60 },
    );
  });

  it('is 4 A / P for triangles (r = 2 A / P)', () => {
    fc.assert(
      fc.property(starRing({ min: 3, max: 3 }), (r) => {
        expect(Math.abs(inscribedWidth(r) - (4 * ringArea(r)) / ringPerimeter(r))).toBeLessThan(WITHIN);
      }),
    );
  });

  it('is never beaten by the room found at any other place', () => {
    fc.assert(
      fc.property(fc.oneof(starRing(), bulgedRing()), (r) => {
        const width = inscribedWidth(r);
        const middles = ringSegments(r).map((s) => pointAlong(s, 0.5));
        let most = 0;
        for (let x = -60; x <= 60; x += 3)
          for (let y = -60; y <= 60; y += 3) {
            const p = { x, y };
            if (pointInRing(r, p) === 'inside') most = Math.max(most, pointRingDistance(r, p));
          }
        expect(width).toBeGreaterThan(2 * most - WITHIN);
        // And it is near: the grid's step of 3 mm leaves at most half its diagonal.
        expect(width / 2).toBeLessThan(most + 2.2);
        expect(middles.length).toBeGreaterThan(0);
      }),
      { numRuns: 40 },
    );
  });

  it('is the wider chamber of a dumbbell, and 0 for a ring without area', () => {
    const dumbbell = polygonRing([
      { x: 0, y: 0 },
      { x: 20, y: 0 },
      { x: 20, y: 8 },
      { x: 40, y: 8 },
      { x: 40, y: 0 },
      { x: 62, y: 0 },
      { x: 62, y: 22 },
      { x: 40, y: 22 },
      { x: 40, y: 12 },
      { x: 20, y: 12 },
      { x: 20, y: 20 },
      { x: 0, y: 20 },
    ]);
    expect(inscribedWidth(dumbbell)).toBeGreaterThan(22 - WITHIN);
    expect(
      inscribedWidth(
        polygonRing([
          { x: 0, y: 0 },
          { x: 5, y: 0 },
        ]),
      ),
    ).toBe(0);
  });
});
