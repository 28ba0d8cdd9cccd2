import type { JobDocument } from './job-document.js';

/** A state of the job and what was done to come to it, in words. */
export interface Step {
  readonly document: JobDocument;
  readonly done: string;
}

/** The job as it is, what it was before, and what was undone. Never changed. */
export interface History {
  readonly past: readonly Step[];
  readonly now: Step;
  readonly future: readonly Step[];
}

/** So many steps can be undone. */
const KEPT = 200;

/** A job that was just opened. */
export const begin = (document: JobDocument, done: string): History => ({
  past: [],
  now: { document, done },
  future: [],
});

/** After a change; what was undone is let go. */
export const advance = ({ past, now }: History, document: JobDocument, done: string): History => ({
  past: [...past, now].slice(-KEPT),
  now: { document, done },
  future: [],
});

/** One step back; the same where there is none. */
export function undo(history: History): History {
  const { past, now, future } = history;
  const last = past.at(-1);
  return last ? { past: past.slice(0, -1), now: last, future: [now, ...future] } : history;
}

/** One step forward again; the same where there is none. */
export function redo(history: History): History {
  const { past, now, future } = history;
  const [next, ...rest] = future;
  return next ? { past: [...past, now], now: next, future: rest } : history;
}
