import type { ThicknessMap, ThicknessSurface } from '@haunch/model';
import { fitGaussian, type GaussianFit } from './gaussian-fit.js';
import type { SheetExpectation } from './practice.js';

/** Which of the six coefficients each surface uses. */
const USES: Readonly<Record<ThicknessSurface, readonly (0 | 1)[]>> = {
  level: [1, 0, 0, 0, 0, 0],
  plane: [1, 1, 1, 0, 0, 0],
  curved: [1, 1, 1, 1, 1, 1],
};
const SURFACES = ['level', 'plane', 'curved'] as const;

/** Local unevenness is tried at this many values, spread over ±2.5 of its logarithm's standard deviations. */
const LOCALS = 11;
const LOCAL_REACH = 2.5;
/** The mean thickness is taken as unknown within this standard deviation of the readings' mean, mm. */
const MEAN_DOUBT = 1;

/** Readings made ready: a row of the six basis values each, the value less `offset`, the reading's own variance. */
export interface PreparedReadings {
  readonly rows: readonly (readonly number[])[];
  readonly values: readonly number[];
  readonly variances: readonly number[];
  readonly offset: number;
}

interface Candidate {
  readonly surface: ThicknessSurface;
  readonly local: number;
  readonly weight: number;
  readonly fit: GaussianFit;
}

/** What remains of a map once its frame is left out. */
export type MixedSurface = Pick<
  ThicknessMap,
  'surface' | 'evidence' | 'coefficients' | 'covariance' | 'local' | 'degreesOfFreedom'
>;

/**
 * Weighs every surface with every local unevenness by how likely it makes the readings, and mixes them: mean and
 * covariance of the mixture, and the degrees of freedom of the Student distribution with the mixture's
 * kurtosis where the readings are (moment matching).
 */
export function mixSurfaces(readings: PreparedReadings, expectation: SheetExpectation): MixedSurface {
  const { rows, values, variances, offset } = readings;
  const scale = [
    MEAN_DOUBT,
    expectation.slope,
    expectation.slope,
    expectation.bow,
    expectation.bow,
    expectation.bow,
  ];
  const candidates: Candidate[] = [];
  for (const surface of SURFACES) {
    const prior = USES[surface].map((used, i) => used * scale[i]! ** 2);
    for (let k = 0; k < LOCALS; k++) {
      const z = LOCAL_REACH * ((2 * k) / (LOCALS - 1) - 1);
      const local = expectation.local * Math.exp(z * expectation.localDoubt);
      const fit = fitGaussian({ rows, values, noise: variances.map((v) => v + local * local), prior });
      candidates.push({ surface, local, weight: fit.logEvidence - (z * z) / 2, fit });
    }
  }
  const greatest = Math.max(...candidates.map((c) => c.weight));
  const raw = candidates.map((c) => Math.exp(c.weight - greatest));
  const total = raw.reduce((sum, w) => sum + w, 0);
  const weights = raw.map((w) => w / total);
  const size = scale.length;
  const mean = scale.map((_, i) => candidates.reduce((sum, c, k) => sum + weights[k]! * c.fit.mean[i]!, 0));
  const covariance = scale.map((_, i) =>
    scale.map((__, j) =>
      candidates.reduce((sum, c, k) => {
        const away = (c.fit.mean[i]! - mean[i]!) * (c.fit.mean[j]! - mean[j]!);
        return sum + weights[k]! * (c.fit.covariance[i]![j]! + away);
      }, 0),
    ),
  );
  const local = Math.sqrt(candidates.reduce((sum, c, k) => sum + weights[k]! * c.local ** 2, 0));
  const evidence = Object.fromEntries(
    SURFACES.map((s) => [s, candidates.reduce((sum, c, k) => sum + (c.surface === s ? weights[k]! : 0), 0)]),
  ) as Record<ThicknessSurface, number>;
  const surface = SURFACES.reduce((best, s) => (evidence[s] > evidence[best] ? s : best));
  const degrees = degreesOfFreedom(candidates, weights, mean, size);
  // Student's distribution with standard uncertainty u has the variance u²·ν/(ν − 2): that of the mixture.
  const shrink = (degrees - 2) / degrees;
  return {
    surface,
    evidence,
    coefficients: mean.map((v, i) => v + (i === 0 ? offset : 0)),
    covariance: covariance.map((row) => row.map((c) => c * shrink)),
    local: local * Math.sqrt(shrink),
    degreesOfFreedom: degrees,
  };
}

/** At the middle of the readings: Student's distribution with excess kurtosis 6/(ν − 4) equal to the mixture's. */
function degreesOfFreedom(
  candidates: readonly Candidate[],
  weights: readonly number[],
  mean: readonly number[],
  size: number,
): number {
  // Averaged over the middle and four places half-way out, where joints usually lie.
  const places = [
    [0, 0],
    [0.6, 0.6],
    [-0.6, 0.6],
    [0.6, -0.6],
    [-0.6, -0.6],
  ].map(([x, y]) => [1, x!, y!, x! * x!, x! * y!, y! * y!]);
  let [second, fourth] = [0, 0];
  for (const b of places) {
    const centre = b.reduce((sum, v, i) => sum + v * mean[i]!, 0);
    let [m2, m4] = [0, 0];
    candidates.forEach((c, k) => {
      const away = b.reduce((sum, v, i) => sum + v * c.fit.mean[i]!, 0) - centre;
      let variance = c.local ** 2;
      for (let i = 0; i < size; i++)
        for (let j = 0; j < size; j++) variance += b[i]! * b[j]! * c.fit.covariance[i]![j]!;
      m2 += weights[k]! * (variance + away ** 2);
      m4 += weights[k]! * (3 * variance ** 2 + 6 * variance * away ** 2 + away ** 4);
    });
    second += m2 * m2;
    fourth += m4;
  }
  const excess = fourth / second - 3;
  return excess <= 1e-6 ? 1e6 : 4 + 6 / excess;
}
