import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Made, type MakeInput, makeJob } from '@haunch/job';
import { ROOT } from '../architecture/source-file.js';

/** The demo's folder. */
export const SIDEBOARD = join(ROOT, 'docs/examples/sideboard');

/** The demo's job as input of the chain, with its JSON changed by `edit` first. */
export function sideboardJob(edit: (job: Record<string, any>) => void = () => {}): MakeInput {
  const job = JSON.parse(readFileSync(join(SIDEBOARD, 'job.json'), 'utf8'));
  edit(job);
  return {
    text: JSON.stringify(job, null, 2),
    file: 'job.json',
    source: (name) => {
      try {
        return readFileSync(join(SIDEBOARD, name));
      } catch {
        return undefined;
      }
    },
  };
}

let asItIs: Promise<Made> | undefined;

/**
 * The demo carried through the whole chain. Unedited it is made once and shared by all tests that a worker runs: it
 * is for reading.
 */
export function madeSideboard(edit?: (job: Record<string, any>) => void): Promise<Made> {
  if (edit) return carriedThrough(edit);
  asItIs ??= carriedThrough();
  return asItIs;
}

async function carriedThrough(edit?: (job: Record<string, any>) => void): Promise<Made> {
  const made = await makeJob(sideboardJob(edit));
  if (!made.ok) throw new Error(JSON.stringify(made.diagnostics, null, 1));
  return made.value;
}
