import type { NestingRun } from '@haunch/model';
import { seededRandom } from './seeded-random.js';

/**
 * A budget of `n` ticks: answers true `n` times and false ever after. Counted, never timed, so that a layout
 * can be made again on any machine.
 * @throws RangeError when `n` is negative or not a number; `Infinity` is allowed for a caller who stops by other means.
 */
export function ticks(n: number): () => boolean {
  if (!(n >= 0)) throw new RangeError(`ticks: ${n} is not a number of ticks`);
  let left = n;
  return () => left > 0 && left-- > 0;
}

/**
 * A run for a strategy: randomness from the seed, budget in ticks.
 * @throws RangeError for a seed or a number of ticks that is none.
 */
export function seededRun(seed: number, budget: number): NestingRun {
  const within = ticks(budget);
  let used = 0;
  return {
    random: seededRandom(seed),
    tick: () => {
      used++;
      return within();
    },
    spent: () => (budget > 0 ? Math.min(1, used / budget) : 1),
  };
}
