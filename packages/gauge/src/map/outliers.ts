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
/** Up to so many readings each is left out in turn; of more, those that lie farthest from what all of them say. */
const EACH = 40;
const SUSPECTS = 8;

/** The readings that may be the least likely: of many one reading moves the surface too little to hide what is wrong with it. */
function suspects(readings: PreparedReadings, expectation: SheetExpectation): number[] {
  const all = readings.values.map((_, k) => k);
  if (all.length <= EACH) return all;
  const { coefficients, local } = mixSurfaces(readings, expectation);
  const far = all.map((k) => {
    const expected = readings.rows[k]!.reduce((sum, b, i) => sum + b * coefficients[i]!, 0);
    return Math.abs(readings.values[k]! - expected) / Math.sqrt(local ** 2 + readings.variances[k]!);
  });
  return all.sort((a, b) => far[b]! - far[a]! || a - b).slice(0, SUSPECTS);
}

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
    const judged = suspects(rest, expectation).map((k) => ({
      index: kept[k]!,
      ...leftOut(rest, k, expectation),
    }));
    const worst = judged.reduce((a, b) => (b.chance < a.chance ? b : a));
    if (worst.chance * kept.length >= OUTLIER_CHANCE) break;
    found.push({ index: worst.index, expected: worst.expected + readings.offset, u: worst.u });
    kept = kept.filter((i) => i !== worst.index);
  }
  return found;
}
