import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexPieces } from '../src/strategies/convex-pieces.js';
import { isForbidden, noFit } from '../src/strategies/no-fit.js';
import { type ExactPolygon, exactlyOverlap } from './exact-overlap.js';

type Pairs = readonly (readonly [number, number])[];
const exact = (p: Pairs, dx = 0, dy = 0): ExactPolygon => p.map(([x, y]) => [BigInt(x + dx), BigInt(y + dy)]);
const square: Pairs = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const ell: Pairs = [
  [0, 0],
  [30, 0],
  [30, 10],
  [10, 10],
  [10, 30],
  [0, 30],
];
const zig: Pairs = [
  [0, 0],
  [21, 7],
  [40, 0],
  [33, 19],
  [12, 25],
  [17, 14],
];

describe('the overlap check in whole numbers', () => {
  it.each([
    ['the same place', square, 0, 0, true],
    ['side by side', square, 10, 0, false],
    ['one step too near', square, 9, 0, true],
    ['corner to corner', square, 10, 10, false],
    ['in the corner of an L', ell, 10, 10, false],
    ['one step into the L', ell, 9, 10, true],
    ['beyond the L', ell, 30, 0, false],
    ['wholly inside the foot of the L', ell, 5, 0, true],
  ] as const)('%s', (_, big, dx, dy, overlaps) => {
    expect(exactlyOverlap(exact(big), exact(square, dx, dy))).toBe(overlaps);
    expect(exactlyOverlap(exact(square, dx, dy), exact(big))).toBe(overlaps);
  });

  it('agrees with the no-fit polygon at every place', () => {
    const shapes = [square, ell, zig];
    const one = fc.constantFrom(...shapes);
    fc.assert(
      fc.property(
        one,
        one,
        fc.integer({ min: -45, max: 45 }),
        fc.integer({ min: -45, max: 45 }),
        (a, b, dx, dy) => {
          const f = noFit(convexPieces(a.flat()), convexPieces(b.flat()));
          expect(exactlyOverlap(exact(a), exact(b, dx, dy))).toBe(isForbidden(f, dx, dy));
        },
      ),
      { numRuns: 3000 },
    );
  });
});
