import type { NestingInstance, NestingStrategy } from '@haunch/model';
import { type NestingResult, runNesting } from './run-nesting.js';
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

/**
 * Several explorers with seeds of their own, one after the other, and the best of what they found. Workers that run
 * one explorer each (`runNesting` with `seededRun(explorerSeed(seed, k), ticks)`) and hand their results to `bestResult` in
 * the order of `k` come to the very same, however long each takes.
 * @throws RangeError when there is no explorer.
 */
export const runExplorers = <Options>(
  strategy: NestingStrategy<Options>,
  instance: NestingInstance,
  options: Options,
  { seed, count, ticks }: Explorers,
): NestingResult =>
  bestResult(
    Array.from({ length: count }, (_, k) =>
      runNesting(strategy, instance, options, seededRun(explorerSeed(seed, k), ticks)),
    ),
  );
