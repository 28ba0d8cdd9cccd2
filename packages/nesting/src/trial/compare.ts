import { seededRandom } from '../seeded-random.js';
import { published } from './best-known.js';
import { figureAt, performanceProfiles, type Step, secondsTo, shareSteps } from './curve.js';
import type { KnownBest, LayoutProblem } from './problem.js';
import { holm, type SignedRank, signedRank } from './signed-rank.js';
import { type Spread, spreadOf } from './spread.js';
import { figureOf, type TrialBudget, type TrialResult } from './trial.js';

/** How a budget is written: `20000 ticks`, `5 s`. */
export const budgetText = (b: TrialBudget): string => ('ticks' in b ? `${b.ticks} ticks` : `${b.seconds} s`);

/** What several seeds of one strategy came to on one problem at one budget. */
export interface CaseSummary {
  readonly problem: string;
  readonly strategy: string;
  readonly budget: string;
  readonly runs: number;
  /** Runs without a valid complete layout; they are counted here and in no mean. */
  readonly failed: number;
  /** Of the figure: density in %, or boards, negative; undefined where every run failed. */
  readonly figure?: Spread;
  /** Mean (result − lower bound) / lower bound. */
  readonly meanGap?: number;
  readonly known?: KnownBest;
  /** Best known less the mean, in points of density. */
  readonly toKnown?: number;
  readonly meanSeconds: number;
}

/** One strategy against another over the problems both ran on, at one budget. */
export interface Duel {
  readonly budget: string;
  readonly first: string;
  readonly second: string;
  readonly test: SignedRank;
  /** Corrected for the number of duels. */
  readonly p: number;
  readonly wins: number;
  readonly losses: number;
}

/** Everything that tables and pictures are drawn from. */
export interface Comparison {
  readonly cases: readonly CaseSummary[];
  readonly duels: readonly Duel[];
  /** For each budget: performance profiles of the strategies' mean costs (length over bound, or boards over bound). */
  readonly profiles: readonly {
    readonly budget: string;
    readonly curves: readonly { readonly name: string; readonly steps: readonly Step[] }[];
  }[];
}

const grouped = <T>(all: readonly T[], key: (t: T) => string): Map<string, T[]> => {
  const map = new Map<string, T[]>();
  for (const t of all) map.set(key(t), [...(map.get(key(t)) ?? []), t]);
  return map;
};

const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
const known = <T>(v: readonly (T | undefined)[]): T[] => v.filter((x): x is T => x !== undefined);

function summary(runs: readonly TrialResult[]): CaseSummary {
  const first = runs[0]!;
  const figures = known(runs.map(figureOf));
  const gaps = known(runs.map((r) => r.gap));
  const figure = figures.length > 0 ? spreadOf(figures, seededRandom(1)) : undefined;
  const to = first.known?.density;
  return {
    problem: first.problem,
    strategy: first.strategy,
    budget: budgetText(first.budget),
    runs: runs.length,
    failed: runs.length - figures.length,
    ...(figure ? { figure } : {}),
    ...(gaps.length > 0 ? { meanGap: mean(gaps) } : {}),
    ...(first.known ? { known: first.known } : {}),
    ...(figure && to !== undefined && first.length !== undefined ? { toKnown: to * 100 - figure.mean } : {}),
    meanSeconds: mean(runs.map((r) => r.seconds)),
  };
}

function duelsAt(budget: string, cases: readonly CaseSummary[]): Omit<Duel, 'p'>[] {
  const byStrategy = grouped(cases, (c) => c.strategy);
  const names = [...byStrategy.keys()].sort();
  const figure = (name: string): Map<string, number> =>
    new Map(byStrategy.get(name)!.flatMap((c) => (c.figure ? [[c.problem, c.figure.mean] as const] : [])));
  return names.flatMap((first, i) =>
    names.slice(i + 1).map((second) => {
      const [a, b] = [figure(first), figure(second)];
      const shared = [...a.keys()].filter((k) => b.has(k)).sort();
      const pairs = shared.map((k) => [a.get(k)!, b.get(k)!] as const);
      return {
        budget,
        first,
        second,
        test: signedRank(
          pairs.map((p) => p[0]),
          pairs.map((p) => p[1]),
        ),
        wins: pairs.filter((p) => p[0] > p[1]).length,
        losses: pairs.filter((p) => p[0] < p[1]).length,
      };
    }),
  );
}

function profilesAt(budget: string, cases: readonly CaseSummary[]): Comparison['profiles'][number] {
  const names = [...new Set(cases.map((c) => c.strategy))].sort();
  const problems = [...new Set(cases.map((c) => c.problem))].sort();
  const cost = new Map(
    cases.map((c) => [`${c.strategy}\n${c.problem}`, c.meanGap === undefined ? undefined : 1 + c.meanGap]),
  );
  const steps = performanceProfiles(names.map((n) => problems.map((p) => cost.get(`${n}\n${p}`))));
  return { budget, curves: names.map((name, i) => ({ name, steps: steps[i]! })) };
}

/**
 * Sums up trials: each problem × strategy × budget with its spread over seeds; every pair of strategies by the
 * signed-rank test over the problems' means, corrected after Holm; performance profiles. Independent of the order of
 * the trials.
 */
export function compareTrials(results: readonly TrialResult[]): Comparison {
  const ordered = [...results].sort((a, b) => {
    const k = (r: TrialResult): string => [r.problem, r.strategy, budgetText(r.budget)].join('\n');
    return k(a) < k(b) ? -1 : k(a) > k(b) ? 1 : a.seed - b.seed;
  });
  const cases = [
    ...grouped(ordered, (r) => `${r.problem}\n${r.strategy}\n${budgetText(r.budget)}`).values(),
  ].map(summary);
  const byBudget = grouped(cases, (c) => c.budget);
  const duels = [...byBudget].flatMap(([budget, cs]) => duelsAt(budget, cs));
  const p = holm(duels.map((d) => d.test.p));
  return {
    cases,
    duels: duels.map((d, i) => ({ ...d, p: p[i]! })),
    profiles: [...byBudget].map(([budget, cs]) => profilesAt(budget, cs)),
  };
}

/** The problem with the best figure in print beside it, where the problem itself knows none. */
export function withPublished(problem: LayoutProblem): LayoutProblem {
  const best = problem.known ? undefined : published(problem);
  return best
    ? { ...problem, known: { density: best.density, source: best.source, proved: best.density >= 1 } }
    : problem;
}

/** Mean figure of several runs at each of the times; `undefined` until every run has a layout. */
export function meanCurve(runs: readonly TrialResult[], seconds: readonly number[]): (number | undefined)[] {
  return seconds.map((s) => {
    const all = runs.map((r) => figureAt(r.curve, s, Number.NaN));
    return all.length > 0 && all.every((v) => !Number.isNaN(v)) ? mean(all) : undefined;
  });
}

/** The share of runs that had reached a figure, over time; runs that never reached it stay in the whole. */
export const timeToTarget = (runs: readonly TrialResult[], figure: number): Step[] =>
  shareSteps(runs.map((r) => secondsTo(r.curve, figure)));
