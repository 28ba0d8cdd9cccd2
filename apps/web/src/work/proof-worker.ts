import { loadClip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import { type ProofTask, type Proved, proveTask } from '@haunch/proof';
import * as Comlink from 'comlink';

/** What the worker that proves does: it makes the proofs it is handed, one after another. */
export interface ProvingService {
  prove(task: ProofTask): Promise<Outcome<Proved>>;
}

// Loaded while there is nothing to prove yet.
const clip = loadClip();

const service: ProvingService = { prove: async (task) => proveTask(task, await clip) };

Comlink.expose(service);
