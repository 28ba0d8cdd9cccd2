import { availableParallelism } from 'node:os';
import { UsageError } from '../exit.js';

/** More threads than this beside the first gain little for their memory: each loads the proof and its polygon kernel anew. */
const MOST = 3;

/**
 * Threads that may prove beside this one: one for each further core, or as `HAUNCH_THREADS` has it, which counts this one too.
 * @throws UsageError when it says something else than a whole number of 1 or more.
 */
export function threadsForProofs(said: string | undefined): number {
  if (said === undefined || said === '') return Math.min(MOST, availableParallelism() - 1);
  if (!/^[1-9]\d{0,3}$/.test(said))
    throw new UsageError(`HAUNCH_THREADS is a whole number of 1 or more; it says ${JSON.stringify(said)}`);
  return Number(said) - 1;
}
