import { parentPort } from 'node:worker_threads';
import { loadClip } from '@haunch/geometry';
import { proveTask } from '@haunch/proof';
import type { Answer, Order } from './order.js';

// A thread that makes the proofs it is handed, one after another.
const port = parentPort!;
const answer = (a: Answer): void => port.postMessage(a);
// Loaded while there is nothing to prove yet.
const clip = loadClip();

port.on('message', async ({ id, task }: Order) => {
  try {
    answer({ id, outcome: proveTask(task, await clip) });
  } catch (e) {
    answer({ id, failure: e instanceof Error ? e.message : String(e) });
  }
});
