import { Worker } from 'node:worker_threads';
import type { Prover } from '@haunch/job';
import type { Outcome } from '@haunch/model';
import type { Proved } from '@haunch/proof';
import type { Answer, Order } from './order.js';

/** Threads that make proofs while this one goes on. */
export interface ProverPool {
  /** Rejects when a thread dies over it, or cannot be started. */
  readonly prove: Prover;
  /** Ends the threads, whatever they are at. */
  close(): void;
}

interface Waiting {
  readonly resolve: (outcome: Outcome<Proved>) => void;
  readonly reject: (why: Error) => void;
}

/** A thread and what it has been handed. */
class Hand {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, Waiting>();
  alive = true;

  constructor(script: URL) {
    // What this process was started with, such as a script typed on its command line, is not for its threads.
    this.#worker = new Worker(script, { execArgv: [] });
    this.#worker.on('message', (a: Answer) => {
      const w = this.#take(a.id);
      if ('outcome' in a) w?.resolve(a.outcome);
      else w?.reject(new Error(a.failure));
    });
    this.#worker.on('error', (e) => this.#die(e));
    this.#worker.on('exit', () => this.#die(new Error('the thread ended')));
    // A thread without work keeps no process from ending.
    this.#worker.unref();
  }

  get busy(): number {
    return this.#waiting.size;
  }

  send(order: Order): Promise<Outcome<Proved>> {
    return new Promise((resolve, reject) => {
      this.#worker.postMessage(order);
      this.#waiting.set(order.id, { resolve, reject });
      this.#worker.ref();
    });
  }

  end(): void {
    void this.#worker.terminate();
  }

  #take(id: number): Waiting | undefined {
    const w = this.#waiting.get(id);
    this.#waiting.delete(id);
    if (this.#waiting.size === 0) this.#worker.unref();
    return w;
  }

  #die(why: Error): void {
    this.alive = false;
    for (const id of [...this.#waiting.keys()]) this.#take(id)?.reject(why);
  }
}

/**
 * A pool of at most so many threads, each running the script given. The first is started at once, so that it has loaded what it needs
 * when there is something to prove; another when all are busy. None for 0 threads.
 */
export function proverPool(threads: number, script: URL): ProverPool | undefined {
  if (threads < 1) return undefined;
  let hands = [new Hand(script)];
  let orders = 0;
  return {
    async prove(task) {
      hands = hands.filter((h) => h.alive);
      let hand = hands.reduce<Hand | undefined>((a, b) => (a && a.busy <= b.busy ? a : b), undefined);
      if (hand === undefined || (hand.busy > 0 && hands.length < threads)) {
        hand = new Hand(script);
        hands.push(hand);
      }
      return hand.send({ id: orders++, task });
    },
    close() {
      for (const h of hands) h.end();
    },
  };
}
