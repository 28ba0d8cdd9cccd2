/** How a set of figures lies. `interval` is where the mean lies with 95 % confidence. */
export interface Spread {
  readonly count: number;
  readonly best: number;
  readonly worst: number;
  readonly mean: number;
  readonly median: number;
  /** Sample standard deviation (n − 1); 0 for one figure. */
  readonly deviation: number;
  readonly interval: readonly [number, number];
}

const RESAMPLES = 2000;

/**
 * The value below which a share of sorted figures lies, straight between neighbours (definition 7 of R. Hyndman and
 * Y. Fan, "Sample Quantiles in Statistical Packages", The American Statistician 50, 1996).
 * @throws RangeError for no figures or a share outside 0 … 1.
 */
export function quantile(sorted: readonly number[], share: number): number {
  if (sorted.length === 0 || !(share >= 0 && share <= 1))
    throw new RangeError('quantile: no figures or no share');
  const at = share * (sorted.length - 1);
  const low = sorted[Math.floor(at)]!;
  return low + (at - Math.floor(at)) * (sorted[Math.ceil(at)]! - low);
}

const meanOf = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;

/**
 * Mean, spread and the percentile bootstrap interval of the mean (B. Efron and R. Tibshirani, An Introduction to
 * the Bootstrap, 1993, ch. 13; 2,000 resamples). Greater figures are better. The same figures and `random` give the
 * same interval. With fewer than about ten figures the interval is too narrow; the count stands beside it.
 * @throws RangeError for no figures.
 */
export function spreadOf(figures: readonly number[], random: () => number): Spread {
  if (figures.length === 0) throw new RangeError('spreadOf: no figures');
  const sorted = [...figures].sort((a, b) => a - b);
  const mean = meanOf(sorted);
  const n = sorted.length;
  const squares = sorted.reduce((s, v) => s + (v - mean) ** 2, 0);
  const means = Array.from({ length: RESAMPLES }, () => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += sorted[Math.floor(random() * n)]!;
    return sum / n;
  }).sort((a, b) => a - b);
  return {
    count: n,
    best: sorted[n - 1]!,
    worst: sorted[0]!,
    mean,
    median: quantile(sorted, 0.5),
    deviation: n > 1 ? Math.sqrt(squares / (n - 1)) : 0,
    interval: [quantile(means, 0.025), quantile(means, 0.975)],
  };
}
