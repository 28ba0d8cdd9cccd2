import * as Comlink from 'comlink';
import { watchLife } from './life-lock.js';
import type { Service } from './service.js';

/** Work that was asked for and given up. */
export class Stopped extends Error {
  override readonly name = 'Stopped';
}

/** A worker that ended by itself. */
export class WorkerDied extends Error {
  override readonly name = 'WorkerDied';
}

interface Living {
  readonly remote: Service;
  /** Never fulfilled; rejected when the worker is stopped or dies. */
  readonly end: Promise<never>;
  readonly stop: (why: Error) => void;
  /** Whether it has ended. */
  readonly over: () => boolean;
}

let hands = 0;

/** Starts a worker; the browser tells by a lock when it is gone, where it has locks. */
function start(): Living {
  const name = `haunch hand ${Date.now()} ${hands++}`;
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name });
  let stop: (why: Error) => void = () => undefined;
  let ended = false;
  const watch = new AbortController();
  const end = new Promise<never>((_, reject) => {
    stop = (why) => {
      ended = true;
      watch.abort();
      worker.terminate();
      reject(why);
    };
  });
  end.catch(() => undefined);
  worker.addEventListener('error', (e) => {
    e.preventDefault();
    stop(new WorkerDied(e.message));
  });
  // Every call of a service is asked and answered in messages already, so that the remote one is of the same shape.
  const remote = Comlink.wrap<Service>(worker) as unknown as Service;
  void remote.alive().then(
    () => watchLife(name, watch.signal, () => stop(new WorkerDied('it ended'))),
    () => undefined,
  );
  return { remote, end, stop, over: () => ended };
}

/** A worker at hand: started when it is first needed, and again after it was stopped or has died. */
export class Hand {
  #living: Living | null = null;

  /** Has the worker do something. @throws Stopped, WorkerDied, or what the work throws. */
  async do<T>(work: (service: Service) => Promise<T>): Promise<T> {
    // One that ended while it had nothing to do is missed by nobody.
    if (!this.#living || this.#living.over()) this.#living = start();
    const { remote, end } = this.#living;
    return Promise.race([work(remote), end]);
  }

  /** Ends the work that is being done; the next call starts anew. */
  stop(): void {
    const living = this.#living;
    this.#living = null;
    living?.stop(new Stopped('stopped'));
  }
}
