import { rectangleRing } from '@haunch/geometry';
import type { ThicknessMap } from '@haunch/model';
import { fitThicknessMap } from '../src/map/fit-thickness-map.js';
import type { ThicknessReading } from '../src/map/thickness-reading.js';

/** A sheet of 2440 × 1220 mm. */
export const SHEET = rectangleRing(0, 0, 2440, 1220);

/** EN 324-1's eight places: corners and middles of the sides, 50 mm in. */
export const EIGHT = [
  [50, 50],
  [1220, 50],
  [2390, 50],
  [2390, 610],
  [2390, 1170],
  [1220, 1170],
  [50, 1170],
  [50, 610],
].map(([x, y]) => ({ x: x!, y: y! }));

/** The map of the sheet by these readings; a test that expects one fails where there is none. */
export const mapOf = (readings: readonly ThicknessReading[], options = {}): ThicknessMap => {
  const map = fitThicknessMap(readings, SHEET, options);
  if (!map.ok) throw new Error(map.diagnostics.map((d) => d.message).join('; '));
  return map.value;
};

/** A small generator of random numbers for tests: a linear congruence, its upper bits. */
export const numbers = (seed: number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return ((state >>> 8) + 0.5) / 2 ** 24;
  };
};
