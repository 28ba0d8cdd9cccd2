import { rectangleRing } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { fitThicknessMap } from './fit-thickness-map.js';
import { asDeviation, mapDoubt } from './map-doubt.js';

const fitted = fitThicknessMap(
  [17.6, 17.7, 17.75].map((thickness, i) => ({ thickness, at: { x: 100 + 900 * i, y: 300 + 200 * i } })),
  rectangleRing(0, 0, 2440, 1220),
);
if (!fitted.ok) throw new Error(fitted.diagnostics[0]!.message);
const map = fitted.value;

describe('a standard deviation for a map’s u', () => {
  // The variance of Student's distribution is ν/(ν − 2): NIST/SEMATECH e-Handbook 1.3.6.6.4.
  it('is larger by the root of ν/(ν − 2)', () => {
    expect(asDeviation({ ...map, degreesOfFreedom: 4 }, 0.1)).toBeCloseTo(0.1 * Math.SQRT2, 12);
    const at = { x: 500, y: 500 };
    expect(mapDoubt(map, [at]).surface).toBeCloseTo(asDeviation(map, thicknessAt(map, at).surfaceU), 12);
  });
  it('is refused where there is none', () => {
    expect(map.degreesOfFreedom).toBeGreaterThan(2);
    for (const degreesOfFreedom of [2, 1, Number.NaN])
      expect(() => asDeviation({ ...map, degreesOfFreedom }, 0.1)).toThrow(RangeError);
  });
});
