import { normalCdf } from '../statistics/normal.js';
import { standardNormal } from '../statistics/standard-normal.js';
import type { ErrorSource, FitForecast, PredictedFit, PredictedJoint } from './predicted-fit.js';

/** What would become of the piece if one thing were done better. */
export interface Remedy {
  readonly source: string;
  readonly what: string;
  /** Fits expected to be tight or slack then, and how many fewer that are. */
  readonly expectedOff: number;
  readonly saved: number;
}

/** How a whole piece will probably turn out. */
export interface Prediction {
  readonly kind: 'prediction';
  readonly fits: readonly PredictedFit[];
  /** Numbers of fits to expect; `tight` ones want the sanding block. */
  readonly expected: { readonly tight: number; readonly wanted: number; readonly slack: number };
  /** From simulation, with the errors that fits share: the chance that every fit is as wanted, and how many are tight (5 %, median, 95 %). */
  readonly simulated: {
    readonly runs: number;
    readonly allWanted: number;
    readonly tight: number;
    readonly slack: number;
    readonly tightRange: readonly [number, number, number];
    /** The joints, in the order of their first fits, and how many of them want the sanding block: mean, and 5 %, median, 95 %. */
    readonly joints: readonly PredictedJoint[];
    readonly jointsTight: number;
    readonly jointsTightRange: readonly [number, number, number];
  };
  /** What would help, best first. */
  readonly remedies: readonly Remedy[];
}

const spread = (f: FitForecast, uOf: (source: string) => number): number =>
  Math.hypot(f.own, ...Object.entries(f.shares).map(([source, share]) => share * uOf(source)));

function chances(f: FitForecast, u: number): readonly [tight: number, wanted: number, slack: number] {
  const [low, high] = f.window;
  if (u === 0)
    return [
      f.clearance < low ? 1 : 0,
      f.clearance >= low && f.clearance <= high ? 1 : 0,
      f.clearance > high ? 1 : 0,
    ];
  const tight = normalCdf((low - f.clearance) / u);
  const slack = normalCdf((f.clearance - high) / u);
  return [tight, 1 - tight - slack, slack];
}

function predictOne(f: FitForecast, uOf: (source: string) => number): Omit<PredictedFit, 'monteCarlo'> {
  const u = spread(f, uOf);
  const [tight, wanted, slack] = chances(f, u);
  const worst =
    2 * (f.own + Object.entries(f.shares).reduce((sum, [s, share]) => sum + Math.abs(share) * uOf(s), 0));
  return {
    id: f.id,
    clearance: f.clearance,
    u,
    tight,
    wanted,
    slack,
    worstCase: [f.clearance - worst, f.clearance + worst],
    rootSumSquare: [f.clearance - 2 * u, f.clearance + 2 * u],
  };
}

/** The share of a normal quantity that lies below two standard uncertainties under its mean. */
const BELOW_TWO = normalCdf(-2);

const quantile = (sorted: Readonly<ArrayLike<number>>, p: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? 0;

const rangeOf = (counts: readonly number[]): readonly [number, number, number] => {
  const sorted = [...counts].sort((a, b) => a - b);
  return [quantile(sorted, 0.05), quantile(sorted, 0.5), quantile(sorted, 0.95)];
};

interface Simulation {
  readonly summary: Prediction['simulated'];
  readonly ranges: readonly (readonly [number, number])[];
}

function simulate(
  fits: readonly FitForecast[],
  sources: readonly ErrorSource[],
  runs: number,
  random: () => number,
): Simulation {
  const normal = standardNormal(random);
  const shares = fits.map((f) => sources.map((s) => (f.shares[s.id] ?? 0) * s.u));
  const names = [...new Set(fits.map((f) => f.joint ?? f.id))];
  const jointOf = fits.map((f) => names.indexOf(f.joint ?? f.id));
  const [jointTight, jointSlack] = [names.map(() => 0), names.map(() => 0)];
  const clearances = fits.map(() => new Float64Array(runs));
  const errors = new Float64Array(sources.length);
  const counts: number[] = [];
  const jointCounts: number[] = [];
  // 0 as wanted, 1 slack, 2 tight: what a joint is said to be goes by its worst fit.
  const worst = new Uint8Array(names.length);
  let [allWanted, tightSum, slackSum] = [0, 0, 0];
  for (let run = 0; run < runs; run++) {
    for (let s = 0; s < errors.length; s++) errors[s] = normal();
    worst.fill(0);
    let [tight, slack] = [0, 0];
    for (let i = 0; i < fits.length; i++) {
      const f = fits[i]!;
      const share = shares[i]!;
      let clearance = f.clearance + f.own * normal();
      for (let s = 0; s < errors.length; s++) clearance += share[s]! * errors[s]!;
      clearances[i]![run] = clearance;
      const j = jointOf[i]!;
      if (clearance < f.window[0]) {
        tight++;
        worst[j] = 2;
      } else if (clearance > f.window[1]) {
        slack++;
        worst[j] = Math.max(worst[j]!, 1);
      }
    }
    let inJoints = 0;
    for (let j = 0; j < worst.length; j++) {
      if (worst[j] === 2) {
        jointTight[j]!++;
        inJoints++;
      } else if (worst[j] === 1) jointSlack[j]!++;
    }
    jointCounts.push(inJoints);
    if (tight + slack === 0) allWanted++;
    tightSum += tight;
    slackSum += slack;
    counts.push(tight);
  }
  const summary = {
    runs,
    allWanted: allWanted / runs,
    tight: tightSum / runs,
    slack: slackSum / runs,
    tightRange: rangeOf(counts),
    joints: names.map((id, j) => ({
      id,
      tight: jointTight[j]! / runs,
      wanted: 1 - (jointTight[j]! + jointSlack[j]!) / runs,
      slack: jointSlack[j]! / runs,
    })),
    jointsTight: jointCounts.reduce((sum, n) => sum + n, 0) / runs,
    jointsTightRange: rangeOf(jointCounts),
  };
  const ranges = clearances.map((c): readonly [number, number] => {
    const sorted = c.sort();
    return [quantile(sorted, BELOW_TWO), quantile(sorted, 1 - BELOW_TWO)];
  });
  return { summary, ranges };
}

/**
 * The outcome to expect of all fits: for each the chances of tight, as wanted and slack from normal errors (interference of two
 * normal dimensions), worst case and root sum of squares beside them; for the piece, by simulation, the chance that all go right,
 * which errors shared between fits make better than the product of the single chances; and which single remedy would help most.
 * `random` answers numbers in [0, 1). mm.
 * @throws RangeError when a fit names a source that is not given.
 */
export function predictFits(
  fits: readonly FitForecast[],
  sources: readonly ErrorSource[],
  run: { readonly random: () => number; readonly runs?: number },
): Prediction {
  const known = new Map(sources.map((s) => [s.id, s]));
  for (const f of fits)
    for (const source of Object.keys(f.shares))
      if (!known.has(source))
        throw new RangeError(`predictFits: fit '${f.id}' names the unknown source '${source}'`);
  const now = (id: string): number => known.get(id)!.u;
  const predicted = fits.map((f) => predictOne(f, now));
  const sum = (pick: (p: (typeof predicted)[number]) => number): number =>
    predicted.reduce((s, p) => s + pick(p), 0);
  const expected = { tight: sum((p) => p.tight), wanted: sum((p) => p.wanted), slack: sum((p) => p.slack) };
  const off = expected.tight + expected.slack;
  const remedies = sources
    .flatMap((s): Remedy[] => {
      if (!s.remedy) return [];
      const better = (id: string): number => (id === s.id ? s.remedy!.u : now(id));
      const expectedOff = fits.reduce((total, f) => total + 1 - chances(f, spread(f, better))[1], 0);
      return [{ source: s.id, what: s.remedy.what, expectedOff, saved: off - expectedOff }];
    })
    .sort((a, b) => b.saved - a.saved || (a.source < b.source ? -1 : 1));
  const { summary, ranges } = simulate(fits, sources, run.runs ?? 20_000, run.random);
  return {
    kind: 'prediction',
    fits: predicted.map((p, i) => ({ ...p, monteCarlo: ranges[i]! })),
    expected,
    simulated: summary,
    remedies,
  };
}
