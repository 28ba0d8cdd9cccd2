import type { Prover } from '@haunch/job';
import * as Comlink from 'comlink';
import { watchLife } from './life-lock.js';
import type { ProvingService } from './proof-worker.js';

/** A worker that proves while this one goes on. */
export interface ProverBeside {
  /** Rejects when the worker dies, or cannot be started: the proof is then made in this one. */
  readonly prove: Prover;
  /** Ends it, whatever it is at. */
  close(): void;
}

let provers = 0;

/** Starts a worker for proofs, early enough that it has loaded what it needs when there is something to prove; none where one core is all there is. */
export function proverBeside(): ProverBeside | undefined {
  // Some browsers let no worker start another.
  if (typeof Worker === 'undefined' || navigator.hardwareConcurrency < 2) return undefined;
  const name = `haunch prover ${Date.now()} ${provers++}`;
  const worker = new Worker(new URL('./proof-worker.ts', import.meta.url), { type: 'module', name });
  // Asked and answered in messages already, so that the remote one is of the same shape.
  const remote = Comlink.wrap<ProvingService>(worker) as unknown as ProvingService;
  const watch = new AbortController();
  const died = new Promise<never>((_, reject) => {
    worker.addEventListener('error', (e) => {
      e.preventDefault();
      reject(new Error(e.message));
    });
    void remote.alive().then(
      () => watchLife(name, watch.signal, () => reject(new Error('it ended'))),
      () => undefined,
    );
  });
  died.catch(() => undefined);
  return {
    prove: (task) => Promise.race([remote.prove(task), died]),
    close: () => {
      watch.abort();
      worker.terminate();
    },
  };
}
