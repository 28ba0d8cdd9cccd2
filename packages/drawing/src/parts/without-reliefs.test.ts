import { polygonRing, type Ring, rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withoutReliefs } from './without-reliefs.js';

const ring = (points: readonly (readonly [number, number])[]): Ring =>
  polygonRing(points.map(([x, y]) => ({ x, y })));
const corners = (r: Ring): string[] => r.vertices.map((v) => `${+v.x.toFixed(6)},${+v.y.toFixed(6)}`).sort();

/** A slot w × l with square reliefs d × b at all four corners, counter-clockwise. */
const relieved = (w: number, l: number, d: number, b: number): Ring =>
  ring([
    [-d, 0],
    [w + d, 0],
    [w + d, b],
    [w, b],
    [w, l - b],
    [w + d, l - b],
    [w + d, l],
    [-d, l],
    [-d, l - b],
    [0, l - b],
    [0, b],
    [-d, b],
  ]);

describe('withoutReliefs', () => {
  it('gives the slot back that square reliefs were drawn in, whatever their size', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 30 }),
        fc.integer({ min: 60, max: 200 }),
        fc.integer({ min: 2, max: 6 }),
        fc.integer({ min: 6, max: 12 }),
        (w, l, d, b) => {
          const plain = withoutReliefs(relieved(w, l, d, b), 1);
          expect(corners(plain)).toEqual(corners(rectangleRing(0, 0, w, l)));
        },
      ),
    );
  });

  it('leaves plain slots, finger joints and stairs as they are', () => {
    const fingers = ring([
      [0, 0],
      [100, 0],
      [100, 50],
      [80, 50],
      [80, 44],
      [70, 44],
      [70, 50],
      [60, 50],
      [60, 44],
      [50, 44],
      [50, 50],
      [0, 50],
    ]);
    const stairs = ring([
      [0, 0],
      [90, 0],
      [90, 30],
      [60, 30],
      [60, 60],
      [30, 60],
      [30, 90],
      [0, 90],
    ]);
    for (const [r, air] of [
      [fingers, -1],
      [stairs, -1],
      [rectangleRing(0, 0, 18, 100), 1],
    ] as const)
      expect(withoutReliefs(r, air)).toBe(r);
  });
});
