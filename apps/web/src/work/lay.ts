import {
  improveLayout,
  type Job,
  type JobPlacement,
  judgePlacements,
  type LayoutQuestion,
  layoutQuestion,
  loadPieces,
  type Pieces,
  readJob,
} from '@haunch/job';
import type { Outcome } from '@haunch/model';
import { formatJob, jobOf } from '../job/job-document.js';
import type { RefereeWord, WireBetter, WirePlacements } from './lay-wire.js';
import { JOB_FILE, sourcesOf } from './sources.js';
import type { Reply, WireDocument } from './wire.js';

interface Asked {
  readonly job: Job;
  readonly pieces: Pieces;
}

async function read(document: WireDocument, text: string): Promise<Outcome<Asked>> {
  const source = await sourcesOf(document);
  const job = readJob(text, JOB_FILE, { source });
  if (!job.ok) return job;
  const pieces = loadPieces(job.value, source);
  return pieces.ok ? { ...pieces, value: { job: job.value, pieces: pieces.value } } : pieces;
}

/** A job's text without what a person has laid: moving a part asks no new question. */
function unlaid(document: WireDocument): string {
  const job = jobOf(document);
  const { placements: _, ...lay } = job.lay ?? {};
  return formatJob({ ...job, lay });
}

/** The question that was asked last. */
let held: { readonly text: string; readonly question: LayoutQuestion } | null = null;

/** The referee's word on parts laid so; null where the job gives nothing to lay. */
export async function judge(document: WireDocument, placements: WirePlacements): Promise<RefereeWord | null> {
  const text = unlaid(document);
  if (held?.text !== text) {
    const asked = await read(document, text);
    if (!asked.ok) return null;
    const question = layoutQuestion(asked.value.job, asked.value.pieces);
    if (!question.ok) return null;
    held = { text, question: question.value };
  }
  const { valid, violations } = judgePlacements(
    held.question.instance,
    placements as Readonly<Record<string, JobPlacement>>,
  );
  return {
    valid,
    breaches: violations.map(({ items, board, message, at }) => ({
      items,
      board: board ?? null,
      message,
      at: at ?? null,
    })),
  };
}

/** So many times the job's own effort is spent on looking further. */
const LONGER = 40;

/** Looks for better layouts of all parts, those laid by hand too, until the effort is spent or the worker is ended; tells of each. */
export async function improve(
  document: WireDocument,
  better: (found: WireBetter) => void,
): Promise<Reply<WirePlacements | null>> {
  const asked = await read(document, unlaid(document));
  if (!asked.ok) return asked;
  const { job, pieces } = asked.value;
  const found = improveLayout(job, pieces, {
    effort: LONGER * job.settings.lay.effort,
    better: ({ placements, score, number }) =>
      better({
        placements,
        extent: score.extent / 1e6,
        number,
        whole: score.unplacedArea === 0,
      }),
  });
  return found.ok
    ? { ok: true, value: found.value, diagnostics: [] }
    : { ok: false, diagnostics: found.diagnostics };
}
