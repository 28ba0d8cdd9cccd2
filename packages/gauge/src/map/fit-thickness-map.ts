import { type Ring, ringBounds } from '@haunch/geometry';
import { type Diagnostic, fail, type Locus, type Outcome, ok, type ThicknessMap } from '@haunch/model';
import { outlyingReading, wideSpread } from '../diagnostics.js';
import { readingProblems, standardProblems } from './check-readings.js';
import { mixSurfaces } from './mix-surfaces.js';
import { findOutliers } from './outliers.js';
import { type SheetExpectation, SPREAD_WARNED, USUAL_SHEET } from './practice.js';
import { type MapFrame, prepareReadings } from './prepare-readings.js';
import { type SheetStandard, sheetLimits } from './sheet-standard.js';
import type { ThicknessReading } from './thickness-reading.js';

/** How a map is made of readings; everything may be left out. mm. */
export interface MapOptions {
  /** What is expected of such sheets before measuring; a shop's day book sharpens it. */
  readonly expectation?: SheetExpectation;
  /** Standard deviation of a repeated reading with the instrument. */
  readonly repeatability?: number;
  /** The thickness on the label, against which impossible readings and the standard are judged. */
  readonly nominal?: number;
  /** The standard that the sheet was sold by: outside its limits the board is refused. */
  readonly standard?: SheetStandard;
  /** Where the readings come from, for messages. */
  readonly locus?: Locus;
}

/** The frame of a map: the middle of the board's box, ±1 at its edges. */
export function mapFrame(outline: Ring): MapFrame {
  const { minX: x0, minY: y0, maxX: x1, maxY: y1 } = ringBounds(outline);
  return {
    centre: { x: (x0 + x1) / 2, y: (y0 + y1) / 2 },
    reach: { x: Math.max((x1 - x0) / 2, 1), y: Math.max((y1 - y0) / 2, 1) },
  };
}

/**
 * The thickness map of a board from its readings (mm, board coordinates): a level, a plane and a low-order surface,
 * each weighed by how likely it makes the readings, mixed by Bayes' rule (evidence as in D. J. C. MacKay, Neural
 * Computation 4, 1992), so that with one reading it is a level with a wide doubt and with many a surface with a
 * narrow one. Readings that the others contradict are left out and named; impossible ones and a board outside
 * its standard are refused.
 */
export function fitThicknessMap(
  readings: readonly ThicknessReading[],
  outline: Ring,
  options: MapOptions = {},
): Outcome<ThicknessMap> {
  const { expectation = USUAL_SHEET, repeatability, nominal, standard, locus = {} } = options;
  const { problems, notes } = readingProblems(readings, outline, nominal, locus);
  if (problems.length > 0) return fail(...problems);
  const frame = mapFrame(outline);
  const prepared = prepareReadings(readings, frame, expectation, repeatability);
  const outliers = findOutliers(prepared, expectation);
  const said: Diagnostic[] = [
    ...notes,
    ...outliers.map(({ index, expected, u }) =>
      outlyingReading(readings[index]!.thickness, index, expected, u, readings[index]!.at, locus),
    ),
  ];
  const kept = readings.filter((_, i) => !outliers.some((o) => o.index === i));
  if (standard !== undefined && nominal !== undefined) {
    const refused = standardProblems(kept, sheetLimits(standard, nominal), locus);
    if (refused.length > 0) return fail(...refused, ...said);
  }
  const all = kept.map((r) => r.thickness);
  const [least, most] = [Math.min(...all), Math.max(...all)];
  if (most - least > SPREAD_WARNED) {
    const placed = kept.every((r) => r.at !== undefined);
    said.push(wideSpread(least, most, placed, locus));
  }
  return ok(
    {
      kind: 'thickness-map',
      ...mixSurfaces(prepareReadings(kept, frame, expectation, repeatability), expectation),
      ...frame,
      motion: { turnedOver: false, turn: 0, x: 0, y: 0 },
    },
    said,
  );
}
