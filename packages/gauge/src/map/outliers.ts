import { studentCdf } from '../statistics/student.js';
import { mixSurfaces, type PreparedReadings } from './mix-surfaces.js';
import { OUTLIER_CHANCE, type SheetExpectation } from './practice.js';

/** A reading that the others do not lead one to expect. mm. */
export interface Outlier {
  readonly index: number;
  readonly expected: number;
  /** Standard uncertainty of a single reading there, as the others predict it. */
  readonly u: number;
}

/** Fewer readings than this cannot say which of them is wrong. */
const FEWEST = 4;

const without = <T>(list: readonly T[], index: number): T[] => list.filter((_, i) => i !== index);

/** What all other readings predict for this one, and the chance of being at least so far off. */
function leftOut(readings: PreparedReadings, index: number, expectation: SheetExpectation) {
  const others = mixSurfaces(
    {
      offset: 0,
      rows: without(readings.rows, index),
      values: without(readings.values, index),
      variances: without(readings.variances, index),
    },
    expectation,
  );
  const row = readings.rows[index]!;
  const expected = row.reduce((sum, b, i) => sum + b * others.coefficients[i]!, 0);
  let variance = others.local ** 2 + readings.variances[index]!;
  row.forEach((a, i) => {
    row.forEach((b, j) => {
      variance += a * b * others.covariance[i]![j]!;
    });
  });
  const u = Math.sqrt(variance);
  const t = Math.abs(readings.values[index]! - expected) / u;
  return { expected, u, chance: 2 * (1 - studentCdf(t, others.degreesOfFreedom)) };
}

/**
 * Readings to take again: one after the other the least likely is set aside while its chance, times the number
 * of readings, is below OUTLIER_CHANCE and at least four stay; never more than a quarter of them.
 */
export function findOutliers(readings: PreparedReadings, expectation: SheetExpectation): Outlier[] {
  const found: Outlier[] = [];
  let kept = readings.values.map((_, i) => i);
  const most = Math.floor(readings.values.length / 4);
  while (found.length < most && kept.length > FEWEST) {
    const rest: PreparedReadings = {
      offset: 0,
      rows: kept.map((i) => readings.rows[i]!),
      values: kept.map((i) => readings.values[i]!),
      variances: kept.map((i) => readings.variances[i]!),
    };
    const judged = kept.map((index, k) => ({ index, ...leftOut(rest, k, expectation) }));
    const worst = judged.reduce((a, b) => (b.chance < a.chance ? b : a));
    if (worst.chance * kept.length >= OUTLIER_CHANCE) break;
    found.push({ index: worst.index, expected: worst.expected + readings.offset, u: worst.u });
    kept = kept.filter((i) => i !== worst.index);
  }
  return found;
}
