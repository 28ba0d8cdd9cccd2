import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull } from './convex-pieces.js';
import { CORNER_PREFERENCES, findPlace, type Obstacle } from './find-place.js';
import { type GridBox, isForbidden, noFit } from './no-fit.js';
import { doubleArea } from './outer-polygon.js';

const room: GridBox = [0, 0, 30, 24];
const rectangle = fc
  .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 }))
  .map(([w, h]) => [0, 0, w, 0, w, h, 0, h]);
const convex = fc
  .array(fc.tuple(fc.nat(12), fc.nat(12)), { minLength: 3, maxLength: 6 })
  .map((points) => convexHull(points.flat()))
  .filter((p) => doubleArea(p) > 0);
const obstacles = (shape: typeof rectangle): fc.Arbitrary<Obstacle[]> =>
  fc.array(
    fc
      .tuple(shape, shape, fc.nat(28), fc.nat(20))
      .map(([fixed, moving, x, y]) => ({ noFit: noFit([fixed], [moving]), x, y })),
    { maxLength: 8 },
  );
const isFree = (given: readonly Obstacle[], x: number, y: number): boolean =>
  given.every((o) => !isForbidden(o.noFit, x - o.x, y - o.y));

describe('findPlace', () => {
  it('finds among rectangles the very place that trying every grid point finds', () =>
    fc.assert(
      fc.property(obstacles(rectangle), fc.constantFrom(...CORNER_PREFERENCES), (given, preference) => {
        let best: readonly [number, number] | undefined;
        const rank = ([x, y]: readonly [number, number]): readonly [number, number] =>
          preference.first === 'x' ? [x, y * preference.second] : [y, x * preference.second];
        for (let x = room[0]; x <= room[2]; x++)
          for (let y = room[1]; y <= room[3]; y++) {
            if (!isFree(given, x, y)) continue;
            const [u, v] = rank([x, y]);
            const [bu, bv] = best ? rank(best) : [Infinity, Infinity];
            if (u < bu || (u === bu && v < bv)) best = [x, y];
          }
        expect(findPlace(room, given, preference)).toEqual(best);
      }),
      { numRuns: 300 },
    ));

  it('answers only with free grid points of the room', () =>
    fc.assert(
      fc.property(
        obstacles(convex as typeof rectangle),
        fc.constantFrom(...CORNER_PREFERENCES),
        (given, preference) => {
          const place = findPlace(room, given, preference);
          if (!place) return;
          const [x, y] = place;
          expect(Number.isInteger(x) && Number.isInteger(y)).toBe(true);
          expect(x >= room[0] && x <= room[2] && y >= room[1] && y <= room[3]).toBe(true);
          expect(isFree(given, x, y)).toBe(true);
        },
      ),
      { numRuns: 300 },
    ));

  it('finds nothing in a room turned inside out', () =>
    expect(findPlace([5, 0, 4, 9], [], CORNER_PREFERENCES[0]!)).toBeUndefined());
});
