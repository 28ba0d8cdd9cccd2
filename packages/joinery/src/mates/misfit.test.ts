import { polygonRing, rectangleRing } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import type { FlatPart } from './flat-part.js';
import { stand } from './judge-plates.js';
import { gapsBetween, squaresOf } from './misfit.js';
import { plateOf } from './plate-layers.js';

const upright: FlatPart = {
  id: 'U',
  thickness: 12,
  outline: rectangleRing(0, 0, 200, 300),
  through: [rectangleRing(50, 100, 110, 112.2)],
  pockets: [],
};
/** A shelf with one tenon, `short` of the shoulder that would lie against the upright. */
const shelf = (short: number): FlatPart => ({
  id: 'S',
  thickness: 12,
  outline: polygonRing(
    [
      [0, 50],
      [12, 50],
      [12 + short, 50],
      [12 + short, 0],
      [250, 0],
      [250, 200],
      [12 + short, 200],
      [12 + short, 110],
      [0, 110],
    ]
      .filter(([x, y], k) => k !== 1 || short > 0 || x !== 12 || y !== 50)
      .map(([x, y]) => ({ x: x!, y: y! })),
  ),
  through: [],
  pockets: [],
});
/** The upright stands in X = 0 … 12, Y along u and Z along v; the shelf lies `up` above the lower wall of its mortise. */
const standing = (short: number, up: number) =>
  [
    stand(plateOf(upright, 0), { origin: [0, 0, 0], u: [0, 1, 0], v: [0, 0, 1], n: [1, 0, 0] }),
    stand(plateOf(shelf(short), 1), { origin: [0, 0, 100 + up], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] }),
  ] as const;
const rounded = (short: number, up: number): number[] =>
  gapsBetween(...standing(short, up))
    .map((g) => +g.gap.toFixed(6) + 0)
    .sort((a, b) => a - b);

describe('gapsBetween', () => {
  it('measures both walls of a mortise, both cheeks of a tenon and its shoulders', () => {
    expect(rounded(0, 0.1)).toEqual([0, 0, 0, 0, 0.1, 0.1]);
  });

  it('tells a shoulder that stands 0.5 mm off its face, and a plate that presses on a wall', () => {
    expect(rounded(0.5, -0.05)).toEqual([-0.05, 0, 0, 0.25, 0.5, 0.5]);
    expect(squaresOf(gapsBetween(...standing(0.5, 0.1)))).toBeCloseTo(2 * 0.5 ** 2 + 2 * 0.1 ** 2, 9);
  });

  it('counts a shoulder that is farther off than 1.2 mm as none', () => {
    expect(rounded(1.3, 0.1)).toEqual([0, 0, 0.1, 0.1]);
  });
});
