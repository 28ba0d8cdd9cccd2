import type { Prover } from '@haunch/job';
import * as Comlink from 'comlink';
import type { ProvingService } from './proof-worker.js';

/** A worker that proves while this one goes on. */
export interface ProverBeside {
  /** Rejects when the worker dies, or cannot be started: the proof is then made in this one. */
  readonly prove: Prover;
  /** Ends it, whatever it is at. */
  close(): void;
}

/** Starts a worker for proofs, early enough that it has loaded what it needs when there is something to prove; none where one core is all there is. */
export function proverBeside(): ProverBeside | undefined {
  // Some browsers let no worker start another.
  if (typeof Worker === 'undefined' || navigator.hardwareConcurrency < 2) return undefined;
  const worker = new Worker(new URL('./proof-worker.ts', import.meta.url), {
    type: 'module',
    name: 'haunch prover',
  });
  const died = new Promise<never>((_, reject) => {
    worker.addEventListener('error', (e) => {
      e.preventDefault();
      reject(new Error(e.message));
    });
  });
  died.catch(() => undefined);
  // Asked and answered in messages already, so that the remote one is of the same shape.
  const remote = Comlink.wrap<ProvingService>(worker) as unknown as ProvingService;
  return {
    prove: (task) => Promise.race([remote.prove(task), died]),
    close: () => worker.terminate(),
  };
}
