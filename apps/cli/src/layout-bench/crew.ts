import { Worker } from 'node:worker_threads';
import type { Layout } from '@haunch/model';
import type { Met } from '@haunch/nesting';
import type { TrialResult } from '@haunch/nesting/trial';
import { type Team, teamOf } from './team.js';
import type { TrialOrder } from './trial-order.js';

/** What came back of a trial: its result, or why there is none. */
export type Done = { readonly result: TrialResult; readonly layout?: Layout } | { readonly failure: string };

/** Runs trials on a few threads at once. */
export interface Crew {
  /** Calls back with each trial as it ends; the promise keeps when all have ended or the crew was stopped. */
  run(orders: readonly TrialOrder[], ended: (order: TrialOrder, done: Done) => void): Promise<void>;
  /** Asks the trials that are running to end, and begins no more. */
  stop(): void;
}

/** A strategy is asked at its ticks; one that never asks is cut off so long after its time, seconds. */
const GRACE = 20;

const limitOf = (order: TrialOrder): number | undefined =>
  'seconds' in order.budget ? order.budget.seconds * 1.5 + GRACE : undefined;

/** A crew of so many threads, each running the script given. */
export function crewOf(threads: number, script: URL): Crew {
  const shared = new SharedArrayBuffer(4);
  const flag = new Int32Array(shared);
  let stopped = false;
  /** What is to be done when the crew is stopped, of each trial that is running. */
  const running = new Set<() => void>();

  const teams = new Map<string, Team>();
  const teamFor = (order: TrialOrder): Team => {
    const { explorer, ...trial } = order;
    const name = JSON.stringify(trial);
    const team = teams.get(name) ?? teamOf(order.explorers, 'ticks' in order.budget && !stopped);
    teams.set(name, team);
    return team;
  };

  const runOne = (order: TrialOrder, worker: Worker): Promise<{ done: Done; alive: boolean }> =>
    new Promise((settle) => {
      const timers: NodeJS.Timeout[] = [];
      const onMessage = (said: Done | { readonly met: Met }): void => {
        if (!('met' in said)) end(said, true);
        else teamFor(order).meet(order.explorer, said.met, (heard) => worker.postMessage({ heard }));
      };
      const onError = (e: Error): void => end({ failure: `its thread died: ${e.message}` }, false);
      const onExit = (): void => end({ failure: 'its thread ended' }, false);
      const onStop = (): void => {
        timers.push(setTimeout(cutOff('it did not stop when asked, and was cut off'), GRACE * 1000));
      };
      const end = (done: Done, alive: boolean): void => {
        running.delete(onStop);
        for (const t of timers) clearTimeout(t);
        worker.off('message', onMessage).off('error', onError).off('exit', onExit);
        if (order.meets) teamFor(order).leave(order.explorer);
        settle({ done, alive });
      };
      const cutOff = (why: string) => (): void => {
        end({ failure: why }, false);
        void worker.terminate();
      };
      worker.on('message', onMessage).on('error', onError).on('exit', onExit);
      const limit = limitOf(order);
      if (limit !== undefined)
        timers.push(
          setTimeout(
            cutOff(`it did not stop when its time was over, and was cut off after ${limit} s`),
            limit * 1000,
          ),
        );
      running.add(onStop);
      worker.postMessage(order);
    });

  return {
    async run(orders, ended) {
      const waiting = [...orders];
      const member = async (): Promise<void> => {
        let worker: Worker | undefined;
        for (let order = waiting.shift(); order && !stopped; order = waiting.shift()) {
          worker ??= new Worker(script, { workerData: { stop: shared } });
          const { done, alive } = await runOne(order, worker);
          if (!alive) worker = undefined;
          ended(order, done);
        }
        await worker?.terminate();
      };
      await Promise.all(Array.from({ length: Math.min(threads, orders.length) }, member));
    },
    stop() {
      stopped = true;
      Atomics.store(flag, 0, 1);
      for (const team of teams.values()) team.disband();
      for (const onStop of running) onStop();
    },
  };
}
