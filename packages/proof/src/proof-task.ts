import type { Clip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import type { Proved, ProveInput } from './prove-input.js';
import { proveProgram } from './prove-program.js';
import { type ProveSequenceInput, proveSequence } from './prove-sequence.js';

/**
 * A proof still to be made, as it goes to another thread: plain data that survives `postMessage`. The polygon kernel stays behind,
 * as every thread loads its own. mm
 */
export type ProofTask =
  | { readonly kind: 'program'; readonly input: Omit<ProveInput, 'clip'> }
  | { readonly kind: 'sequence'; readonly input: Omit<ProveSequenceInput, 'clip'> };

/**
 * Makes a proof, wherever it is asked for: `proveProgram` or `proveSequence`, with the same answer to the bit in every thread.
 * Fails and throws as they do.
 */
export const proveTask = (task: ProofTask, clip: Clip): Outcome<Proved> =>
  task.kind === 'program' ? proveProgram({ ...task.input, clip }) : proveSequence({ ...task.input, clip });
