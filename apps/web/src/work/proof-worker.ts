import { loadClip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import { type ProofTask, type Proved, proveTask } from '@haunch/proof';
import * as Comlink from 'comlink';
import { holdLife } from './life-lock.js';

/** What the worker that proves does: it makes the proofs it is handed, one after another. */
export interface ProvingService {
  /** Answers once the worker is there, and holds the lock of its name. */
  alive(): Promise<true>;
  prove(task: ProofTask): Promise<Outcome<Proved>>;
}

// Loaded while there is nothing to prove yet.
const clip = loadClip();

const held = holdLife();

const service: ProvingService = {
  alive: () => held,
  prove: async (task) => proveTask(task, await clip),
};

Comlink.expose(service);
