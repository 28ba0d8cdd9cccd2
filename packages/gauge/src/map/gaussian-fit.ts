/** A linear model with independent Gaussian errors and a Gaussian expectation about zero for its coefficients. */
export interface LinearModel {
  readonly rows: readonly (readonly number[])[];
  readonly values: readonly number[];
  /** Variance of each value's error. */
  readonly noise: readonly number[];
  /** Variance expected of each coefficient; 0 for one that is left out. */
  readonly prior: readonly number[];
}

/** What the values say of the coefficients, and how likely the values were. */
export interface GaussianFit {
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Natural logarithm of the probability density of the values under the model: the evidence for it. */
  readonly logEvidence: number;
}

/**
 * Conditions the coefficients on one value after the other, each time updating mean and covariance by the
 * innovation (the recursive form of Bayesian linear regression; R. E. Kalman 1960): exact, needs no inverse,
 * and gives the evidence as the product of the one-step predictions.
 */
export function fitGaussian({ rows, values, noise, prior }: LinearModel): GaussianFit {
  const size = prior.length;
  const mean = prior.map(() => 0);
  const covariance = prior.map((v, i) => prior.map((_, j) => (i === j ? v : 0)));
  let logEvidence = 0;
  rows.forEach((row, k) => {
    const carried = covariance.map((line) => line.reduce((sum, c, j) => sum + c * row[j]!, 0));
    const variance = noise[k]! + row.reduce((sum, b, i) => sum + b * carried[i]!, 0);
    const surprise = values[k]! - row.reduce((sum, b, i) => sum + b * mean[i]!, 0);
    logEvidence -= 0.5 * (Math.log(2 * Math.PI * variance) + (surprise * surprise) / variance);
    for (let i = 0; i < size; i++) {
      mean[i]! += (carried[i]! * surprise) / variance;
      for (let j = 0; j < size; j++) covariance[i]![j]! -= (carried[i]! * carried[j]!) / variance;
    }
  });
  return { mean, covariance, logEvidence };
}
