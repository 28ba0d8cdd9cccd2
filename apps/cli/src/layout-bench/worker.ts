import { parentPort, workerData } from 'node:worker_threads';
import type { Layout } from '@haunch/model';
import { explorerSeed } from '@haunch/nesting';
import { trialSteps } from '@haunch/nesting/trial';
import { contenderNamed } from './contender.js';
import { problemsOf } from './problem-folder.js';
import type { TrialOrder } from './trial-order.js';

/** What an explorer is told at a meeting. */
interface Heard {
  readonly heard: Layout | undefined;
}

// A thread of the crew: runs the trials it is handed, one after another, until it is told that there are no more.
// `workerData.stop` is shared memory: 1 asks it to end what it is at.
const stop = new Int32Array(workerData.stop as SharedArrayBuffer);

// One that meets fellow explorers sends what it has, and waits to be told what the best of them has.
const nextMessage = <T>(): Promise<T> => new Promise((settle) => parentPort!.once('message', settle));

async function workOn(order: TrialOrder): Promise<void> {
  try {
    const outcome = problemsOf(order.folder, order.file);
    if (!outcome.ok) throw new Error(outcome.diagnostics[0]!.message);
    const steps = trialSteps({
      problem: outcome.value[order.index]!,
      contender: await contenderNamed(order.strategy, order.from),
      seed: explorerSeed(order.seed, order.explorer),
      budget: order.budget,
      clock: () => performance.now() / 1000,
      stopped: () => Atomics.load(stop, 0) === 1,
      alone: !order.meets,
    });
    let step = steps.next();
    while (!step.done) {
      parentPort!.postMessage({ met: step.value });
      step = steps.next((await nextMessage<Heard>()).heard);
    }
    parentPort!.postMessage(step.value);
  } catch (e) {
    parentPort!.postMessage({ failure: e instanceof Error ? e.message : String(e) });
  }
}

for (;;) await workOn(await nextMessage<TrialOrder>());
