import { parentPort, workerData } from 'node:worker_threads';
import { explorerSeed } from '@haunch/nesting';
import { runTrial } from '@haunch/nesting/trial';
import { contenderNamed } from './contender.js';
import { problemsOf } from './problem-folder.js';
import type { TrialOrder } from './trial-order.js';

// A thread of the crew: runs the trials it is handed, one after another, until it is told that there are no more.
// `workerData.stop` is shared memory: 1 asks it to end what it is at.
const stop = new Int32Array(workerData.stop as SharedArrayBuffer);

parentPort!.on('message', async (order: TrialOrder) => {
  try {
    const outcome = problemsOf(order.folder, order.file);
    if (!outcome.ok) throw new Error(outcome.diagnostics[0]!.message);
    const done = runTrial({
      problem: outcome.value[order.index]!,
      contender: await contenderNamed(order.strategy, order.from),
      seed: explorerSeed(order.seed, order.explorer),
      budget: order.budget,
      clock: () => performance.now() / 1000,
      stopped: () => Atomics.load(stop, 0) === 1,
    });
    parentPort!.postMessage(done);
  } catch (e) {
    parentPort!.postMessage({ failure: e instanceof Error ? e.message : String(e) });
  }
});
