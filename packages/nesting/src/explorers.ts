import type { Layout, NestingInstance, NestingStrategy } from '@haunch/model';
import { apart, evenMeetings, type Met } from './meetings.js';
import { type NestingResult, nestingSteps } from './run-nesting.js';
import { compareScores } from './score-layout.js';
import { seededRun } from './ticks.js';

/** 2³² divided by the golden ratio: multiples of it spread evenly over the seeds. */
const APART = 0x9e3779b9;

/**
 * The seed of explorer `k` (0, 1, 2 …) of a run: the run's own for the first.
 * @throws RangeError when a number is not whole or below 0.
 */
export function explorerSeed(seed: number, k: number): number {
  if (!Number.isInteger(k) || k < 0)
    throw new RangeError(`explorerSeed: ${k} is not the number of an explorer`);
  if (!Number.isInteger(seed) || seed < 0)
    throw new RangeError(`explorerSeed: seed ${seed} is not a whole number from 0`);
  return (seed + Math.imul(k, APART)) >>> 0;
}

/**
 * The best of several results by the score, the first of equal ones.
 * @throws RangeError when there is none.
 */
export function bestResult(results: readonly NestingResult[]): NestingResult {
  const [first, ...others] = results;
  if (!first) throw new RangeError('bestResult: no result');
  return others.reduce((best, r) => (compareScores(r.score, best.score) < 0 ? r : best), first);
}

/** How many explorers, each with how many ticks. */
export interface Explorers {
  readonly seed: number;
  readonly count: number;
  readonly ticks: number;
}

/** What explorer `k` hears at a meeting: the best that the others had when they last met anyone, the first of equal ones. */
export function heardBy(k: number, met: readonly (Met | undefined)[]): Layout | undefined {
  let best: Met | undefined;
  met.forEach((m, i) => {
    if (i !== k && m && (!best || compareScores(m.score, best.score) < 0)) best = m;
  });
  return best?.layout;
}

/**
 * Several explorers with seeds of their own, and the best of what they found. Whenever each has come to its next
 * meeting or its end, those that met hear what the best of the others had (`heardBy`), and go on. Workers that run one
 * explorer each (`nestingSteps` with `seededRun(explorerSeed(seed, k), ticks)`) and wait for each other there come to
 * the very same, however long each takes.
 * @throws RangeError when there is no explorer.
 */
export function runExplorers<Options>(
  strategy: NestingStrategy<Options>,
  instance: NestingInstance,
  options: Options,
  { seed, count, ticks }: Explorers,
): NestingResult {
  const explorers = Array.from({ length: count }, (_, k) => {
    const run = seededRun(explorerSeed(seed, k), ticks);
    const meetings = count > 1 ? evenMeetings(() => run.spent!()) : apart;
    return nestingSteps(strategy, instance, options, run, meetings);
  });
  const results: (NestingResult | undefined)[] = explorers.map(() => undefined);
  const met: (Met | undefined)[] = explorers.map(() => undefined);
  while (results.some((r) => !r)) {
    const heard = explorers.map((_, k) => heardBy(k, met));
    explorers.forEach((steps, k) => {
      if (results[k]) return;
      const { done, value } = steps.next(heard[k]);
      if (done) results[k] = value;
      else met[k] = value;
    });
  }
  return bestResult(results.flatMap((r) => r ?? []));
}
