import { type Outcome, ok } from '@haunch/model';
import { type Job, readJob } from './job.js';
import type { JobFeltLadder } from './job-ladder-schema.js';
import { ladderSteps } from './ladder-of-job.js';

/** A job with what was felt in its ladder typed in. */
export interface FeltJob {
  readonly kind: 'felt-job';
  readonly job: Job;
  /** The job file's text with its `ladder`; everything else as it was. */
  readonly text: string;
}

/** Types what was felt in a ladder into a job's text, and reads the job so; contradictions and strangers are refused. */
export function feelLadder(
  text: string,
  file: string,
  ladder: JobFeltLadder | Readonly<Record<string, unknown>>,
): Outcome<FeltJob> {
  const plain = readJob(text, file, { ladder: 'not yet' });
  if (!plain.ok) return plain;
  const before = JSON.parse(text) as { ladder?: { steps?: object } };
  const board = plain.value.boards.find((b) => b.id === (ladder as { board?: unknown }).board);
  // What a rung meant is written down: settings may change after it was cut.
  const whole = {
    ...ladder,
    steps: ladderSteps(plain.value.settings, (ladder as { steps?: object }).steps ?? before.ladder?.steps),
    ...(board ? { cutFor: { thickness: board.thickness, diameter: plain.value.router.diameter } } : {}),
  };
  const written = `${JSON.stringify({ ...before, ladder: whole }, null, 2)}\n`;
  const job = readJob(written, file);
  if (!job.ok) return job;
  return ok({ kind: 'felt-job', job: job.value, text: written }, job.diagnostics);
}
