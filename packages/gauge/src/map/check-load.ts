import { fail, type Locus, type Outcome, ok, type ThicknessMap, thicknessAt } from '@haunch/model';
import { notThisBoard } from '../diagnostics.js';
import { LOAD_LIMIT } from './practice.js';
import type { ThicknessReading } from './thickness-reading.js';

/** The reading at loading agrees with the board's map. mm. */
export interface LoadGo {
  readonly kind: 'go';
  readonly measured: number;
  readonly expected: number;
  readonly difference: number;
}

/**
 * One reading at the machine before cutting: go, or a refusal when it is further than `limit` (mm, 0.1 when left out) from what the
 * map says there (from the map's middle when the place was not noted).
 */
export function checkLoad(
  map: ThicknessMap,
  reading: ThicknessReading,
  options: { readonly limit?: number; readonly locus?: Locus } = {},
): Outcome<LoadGo> {
  const { limit = LOAD_LIMIT, locus = {} } = options;
  const expected = reading.at ? thicknessAt(map, reading.at).thickness : map.coefficients[0]!;
  const difference = reading.thickness - expected;
  // Half a micrometre more than the limit, so that a difference typed as the limit itself still goes.
  if (Math.abs(difference) > limit + 5e-4)
    return fail(notThisBoard(reading.thickness, expected, limit, reading.at, locus));
  return ok({ kind: 'go', measured: reading.thickness, expected, difference });
}
