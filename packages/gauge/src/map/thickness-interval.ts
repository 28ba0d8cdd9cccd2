import type { Point } from '@haunch/geometry';
import { type ThicknessMap, thicknessAt } from '@haunch/model';
import { coverageFactor } from '../statistics/student.js';

/** The interval that holds the thickness at one spot of the map's board with this probability, mm. */
export function thicknessInterval(map: ThicknessMap, at: Point, level = 0.95): readonly [number, number] {
  const { thickness, u } = thicknessAt(map, at);
  const half = coverageFactor(level, map.degreesOfFreedom) * u;
  return [thickness - half, thickness + half];
}
