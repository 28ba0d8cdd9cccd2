import { loadClip } from '@haunch/geometry';
import { type Drawings, drawingsOf, type Made, makeJob, outputsOf } from '@haunch/job';
import type { Outcome } from '@haunch/model';
import { proverBeside } from './prover-beside.js';
import { keepResult } from './results.js';
import type { Progressing, Tell } from './service.js';
import { showResult } from './show.js';
import { JOB_FILE, sourcesOf } from './sources.js';
import type { MadeResult, Reply, WireDocument } from './wire.js';

/** What was made last in this worker, with all that no file holds. */
let held: { readonly document: string; readonly made: Made } | null = null;

/** Seconds of each stage, in order. */
class Stages {
  readonly #times = new Map<string, number>();
  #now: string | null = null;
  #since = 0;

  enter(stage: string): void {
    this.leave();
    this.#now = stage;
    this.#since = performance.now();
  }

  leave(): readonly (readonly [string, number])[] {
    if (this.#now !== null)
      this.#times.set(
        this.#now,
        (this.#times.get(this.#now) ?? 0) + (performance.now() - this.#since) / 1000,
      );
    this.#now = null;
    return [...this.#times];
  }
}

/** The job made, all of it, as `haunch make` does; its files are kept for when they are wanted. */
export async function makeDocument(document: WireDocument, tell: Tell): Promise<Reply<MadeResult>> {
  const stages = new Stages();
  const enter = (progress: Progressing): void => {
    stages.enter(progress.stage);
    tell(progress);
  };
  let drawn: Drawings | undefined;
  const beside = proverBeside();
  let made: Outcome<Made>;
  try {
    made = await makeJob({
      text: document.text,
      file: JOB_FILE,
      source: await sourcesOf(document),
      progress: (stage, board) => enter(board === undefined ? { stage } : { stage, board }),
      ...(beside === undefined ? {} : { prover: beside.prove }),
      drafted: async (draft) => {
        enter({ stage: 'write' });
        drawn = drawingsOf(draft, await loadClip());
      },
    });
  } finally {
    beside?.close();
  }
  if (!made.ok) return made;
  held = { document: document.id, made: made.value };
  enter({ stage: 'write' });
  const outputs = outputsOf(made.value, await loadClip(), drawn);
  const { pass } = made.value;
  // A program that is not proved is not written.
  const files = new Map([...outputs.files].filter(([path]) => pass || !/^(programs|replays)\//.test(path)));
  const result: MadeResult = {
    document: document.id,
    pass,
    report: outputs.report,
    files: [...files].map(([path, text]) => ({ path, size: text.length })),
    stages: stages.leave(),
    diagnostics: made.diagnostics,
  };
  await keepResult(result, files, showResult(made.value, outputs));
  return { ok: true, value: result, diagnostics: made.diagnostics };
}

/**
 * What was made of a state, with all that no file holds: from memory, or, after a reload, made again; the same job makes the same
 * to the byte. Null where it cannot be made.
 */
export async function madeOf(document: WireDocument): Promise<Made | null> {
  if (held?.document !== document.id) {
    const made = await makeJob({ text: document.text, file: JOB_FILE, source: await sourcesOf(document) });
    if (!made.ok) return null;
    held = { document: document.id, made: made.value };
  }
  return held.made;
}
