import type { Clip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import { type ProofTask, type Proved, proveTask } from '@haunch/proof';

/**
 * Makes a proof in another thread, as `proveTask` makes it there. Rejects when the thread cannot: the proof is then made in this one,
 * so that a thread that dies costs time and nothing else.
 */
export type Prover = (task: ProofTask) => Promise<Outcome<Proved>>;

/** A proof that is being made, or waits to be asked for. */
export type Proving = () => Promise<Outcome<Proved>>;

/**
 * This thread keeps proofs of so much text for each letter that it hands over: while the others are made it draws, which takes nearly
 * half as long, and with the rest of its time it proves. Measured on the sideboard.
 */
const OWN_SHARE = 0.3;

const sizeOf = (task: ProofTask): number =>
  task.kind === 'program'
    ? task.input.text.length
    : task.input.programs.reduce((sum, p) => sum + p.text.length, 0);

/** Shares proofs out between this thread and another one that makes them meanwhile; without a prover all are made here when asked for. */
export class ProofShare {
  readonly #prover: Prover | undefined;
  readonly #clip: Clip;
  #handed = 0;
  #own = 0;

  constructor(prover: Prover | undefined, clip: Clip) {
    this.#prover = prover;
    this.#clip = clip;
  }

  /** Hands a proof over where the other thread is to make it; `here` tells of one that waits for this thread. */
  begin(task: ProofTask): { readonly here: boolean; readonly proving: Proving } {
    const here = async (): Promise<Outcome<Proved>> => proveTask(task, this.#clip);
    const size = sizeOf(task);
    if (this.#prover === undefined || this.#own + size <= OWN_SHARE * this.#handed) {
      this.#own += size;
      return { here: true, proving: here };
    }
    this.#handed += size;
    const there = this.#prover(task);
    // Nobody may ask for it any more once the work is stopped.
    there.catch(() => undefined);
    return { here: false, proving: () => there.catch(here) };
  }
}
