import type { Point } from '@haunch/geometry';
import { type ThicknessMap, thicknessAt } from '@haunch/model';

/** What a map leaves open, as standard deviations. mm */
export interface MapDoubt {
  /** Of the smooth surface, shared by all that lies on the board: root mean square over the places. */
  readonly surface: number;
  /** From spot to spot, each for itself. */
  readonly local: number;
}

/**
 * The standard deviation that a map's u of something stands for: u is the scale of Student's distribution with ν degrees of freedom. mm
 * @throws RangeError for a map with two degrees of freedom or fewer, whose distribution has no standard deviation; `fitThicknessMap` gives none.
 */
export function asDeviation({ degreesOfFreedom: v }: ThicknessMap, u: number): number {
  if (!(v > 2)) throw new RangeError(`asDeviation: ${v} degrees of freedom leave no standard deviation`);
  return u * Math.sqrt(v / (v - 2));
}

/**
 * What a map leaves open at these places, as the standard deviations that a forecast with normal errors takes. A map's own u is the scale
 * of Student's distribution; its standard deviation is larger by √(ν/(ν − 2)). mm
 */
export function mapDoubt(map: ThicknessMap, where: readonly Point[]): MapDoubt {
  const squares = where.reduce((sum, at) => sum + thicknessAt(map, at).surfaceU ** 2, 0);
  return {
    surface: asDeviation(map, Math.sqrt(squares / Math.max(1, where.length))),
    local: asDeviation(map, map.local),
  };
}
