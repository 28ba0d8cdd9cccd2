import { afterEach, expect, it, vi } from 'vitest';
import { crewOf, type Done } from './crew.js';
import type { TrialOrder } from './trial-order.js';

afterEach(() => vi.useRealTimers());

/** A thread that says the seed it was handed, but for seed 2, at which it is until it is cut off. */
const ECHO = new URL(
  `data:text/javascript,${encodeURIComponent(
    `import { parentPort as port } from 'node:worker_threads'; port.on('message', ({ seed }) => seed !== 2 && port.postMessage({ failure: String(seed) }));`,
  )}`,
);
const order = (seed: number) =>
  ({ seed, budget: { ticks: 1 }, explorer: 0, explorers: 1, meets: false }) as TrialOrder;

it('waits, when it is stopped, for what is running and for nothing else', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  const crew = crewOf(1, ECHO);
  const said: Done[] = [];
  const ran = crew.run([order(1), order(2), order(3)], (_, done) => {
    said.push(done);
    // The first has ended, and the second is about to begin.
    if (said.length === 1) setImmediate(() => crew.stop());
  });
  await vi.waitUntil(() => vi.getTimerCount() > 0, { timeout: 10_000, interval: 5 });
  expect(vi.getTimerCount()).toBe(1);
  vi.runAllTimers();
  await ran;
  expect(said).toEqual([{ failure: '1' }, { failure: 'it did not stop when asked, and was cut off' }]);
  expect(vi.getTimerCount()).toBe(0);
});
