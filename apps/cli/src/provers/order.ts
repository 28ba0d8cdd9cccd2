import type { Outcome } from '@haunch/model';
import type { ProofTask, Proved } from '@haunch/proof';

/** A proof as it is sent to a thread. */
export interface Order {
  readonly id: number;
  readonly task: ProofTask;
}

/** What comes back: the proof, or why there is none. */
export type Answer =
  | { readonly id: number; readonly outcome: Outcome<Proved> }
  | { readonly id: number; readonly failure: string };
