/** What the test came to. */
export interface SignedRank {
  /** Pairs that differ; the others are left out. */
  readonly pairs: number;
  /** The smaller of the two sums of ranks. */
  readonly statistic: number;
  /** Two-sided probability of a sum so small or smaller when neither side is better. */
  readonly p: number;
  /** Which side has the greater sum of ranks: 'first', 'second' or 'neither'. */
  readonly better: 'first' | 'second' | 'neither';
}

/** Above this many pairs the sums are taken as normal. */
const EXACT = 200;

/** Ranks of the sizes from 1; equal sizes share the mean of theirs. Doubled, so that they are whole numbers. */
function doubledRanks(sizes: readonly number[]): number[] {
  const order = sizes.map((s, i) => [s, i] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const ranks = new Array<number>(sizes.length);
  for (let i = 0; i < order.length; ) {
    let j = i;
    while (j < order.length && order[j]![0] === order[i]![0]) j++;
    for (let k = i; k < j; k++) ranks[order[k]![1]] = i + 1 + j;
    i = j;
  }
  return ranks;
}

/** How often each doubled sum arises among all ways of giving the ranks signs, as shares of 1. */
function distribution(ranks: readonly number[]): Float64Array {
  const total = ranks.reduce((a, b) => a + b, 0);
  const share = new Float64Array(total + 1);
  share[0] = 1;
  let top = 0;
  for (const r of ranks) {
    top += r;
    for (let s = top; s >= 0; s--) share[s] = (share[s]! + (s >= r ? share[s - r]! : 0)) / 2;
  }
  return share;
}

/** The normal distribution's upper tail (M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 26.2.17; error below 7.5e-8). */
function upperTail(z: number): number {
  const t = 1 / (1 + 0.2316419 * z);
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * poly;
}

/**
 * The signed-rank test for pairs (F. Wilcoxon, "Individual Comparisons by Ranking Methods", Biometrics Bulletin 1,
 * 1945): pairs without a difference are left out, equal differences share their ranks. Up to 200 pairs the
 * probability is exact, given the ranks; above, normal with the correction for equal ranks. Greater is better.
 * @throws RangeError when the lists differ in length or hold what is no number.
 */
export function signedRank(first: readonly number[], second: readonly number[]): SignedRank {
  if (first.length !== second.length) throw new RangeError('signedRank: the lists must be pairs');
  const d = first.map((v, i) => v - second[i]!);
  if (!d.every(Number.isFinite)) throw new RangeError('signedRank: every figure must be a number');
  const differing = d.filter((v) => v !== 0);
  const n = differing.length;
  if (n === 0) return { pairs: 0, statistic: 0, p: 1, better: 'neither' };
  const ranks = doubledRanks(differing.map(Math.abs));
  const total = ranks.reduce((a, b) => a + b, 0);
  const up = ranks.reduce((sum, r, i) => sum + (differing[i]! > 0 ? r : 0), 0);
  const least = Math.min(up, total - up);
  let tail = 0;
  if (n <= EXACT) {
    const share = distribution(ranks);
    for (let s = 0; s <= least; s++) tail += share[s]!;
  } else {
    const variance = ranks.reduce((v, r) => v + r * r, 0) / 4;
    tail = upperTail((total / 2 - least) / Math.sqrt(variance));
  }
  return {
    pairs: n,
    statistic: least / 2,
    p: Math.min(1, 2 * tail),
    better: up * 2 === total ? 'neither' : up * 2 > total ? 'first' : 'second',
  };
}

/**
 * Probabilities corrected for having looked more than once (S. Holm, "A Simple Sequentially Rejective Multiple Test
 * Procedure", Scandinavian Journal of Statistics 6, 1979), in the order given.
 * @throws RangeError for a probability outside 0 … 1.
 */
export function holm(p: readonly number[]): number[] {
  if (!p.every((v) => v >= 0 && v <= 1)) throw new RangeError('holm: a probability lies between 0 and 1');
  const order = p.map((v, i) => [v, i] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const out = new Array<number>(p.length);
  let least = 0;
  order.forEach(([v, i], k) => {
    least = Math.max(least, Math.min(1, (p.length - k) * v));
    out[i] = least;
  });
  return out;
}
