import type { Point } from '@haunch/geometry';
import type { PreparedReadings } from './mix-surfaces.js';
import { type SheetExpectation, USUAL_REPEATABILITY } from './practice.js';
import type { ThicknessReading } from './thickness-reading.js';

/** The part of a map that says where its formula's (0, 0) and ±1 are. */
export interface MapFrame {
  readonly centre: Point;
  readonly reach: Point;
}

/** The six basis values at a place. */
export function basisAt({ centre, reach }: MapFrame, at: Point): readonly number[] {
  const [xi, eta] = [(at.x - centre.x) / reach.x, (at.y - centre.y) / reach.y];
  return [1, xi, eta, xi * xi, xi * eta, eta * eta];
}

/**
 * Readings as rows of a linear model. One whose place was not noted may stand anywhere on the sheet: it speaks for
 * the mean alone, and what the sheet may differ from its mean is added to its variance.
 */
export function prepareReadings(
  readings: readonly ThicknessReading[],
  frame: MapFrame,
  expectation: SheetExpectation,
  repeatability = USUAL_REPEATABILITY,
): PreparedReadings {
  const offset = readings.reduce((sum, r) => sum + r.thickness, 0) / readings.length;
  // Mean squares over the rectangle: 1/3 for ξ and η each; 1/5 for ξ², η²; 1/9 for ξη.
  const anywhere = (2 / 3) * expectation.slope ** 2 + (2 / 5 + 1 / 9) * expectation.bow ** 2;
  return {
    offset,
    rows: readings.map((r) => (r.at ? basisAt(frame, r.at) : [1, 0, 0, 0, 0, 0])),
    values: readings.map((r) => r.thickness - offset),
    variances: readings.map((r) => (r.repeatability ?? repeatability) ** 2 + (r.at ? 0 : anywhere)),
  };
}
