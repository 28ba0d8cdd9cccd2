import { type JobDocument, jobOf } from './job/job-document.js';
import type { ScreenName } from './job/screen-name.js';
import { text } from './text/catalogue.js';
import type { JobView, MadeResult } from './work/wire.js';

const nothing: Readonly<Record<ScreenName, string>> = {
  drawing: '',
  boards: '',
  fit: '',
  layout: '',
  program: '',
  proof: '',
  assembly: '',
};

/** How far each step of the job is, in a word or two. */
export function stepStates(
  document: JobDocument | null,
  view: JobView | null,
  result: MadeResult | null,
): Readonly<Record<ScreenName, string>> {
  if (!document) return nothing;
  const job = jobOf(document);
  const measured = new Set(view?.boards.map((b) => b.of) ?? []);
  const open = job.boards.filter((b) => !measured.has(b.id)).length;
  const felt = view?.fit?.ladders.some((l) => l.kind === 'felt') ?? false;
  const at = text.states;
  const fresh = result?.document === document.id;
  const made = (words: string): string =>
    result ? (fresh ? words : text.shell.states.stale) : text.shell.states.none;
  return {
    drawing: at.pieces(job.pieces.length),
    boards: open > 0 ? at.toMeasure(open) : at.measured(job.boards.length),
    fit: felt ? at.felt : at.notFelt,
    layout: made(at.boards(result?.report.boards.length ?? 0)),
    program: made(
      result?.pass ? at.programs(result.report.boards.flatMap((b) => b.programs).length) : at.noProgram,
    ),
    proof: made(result?.pass ? text.shell.states.proved : text.shell.states.refused),
    assembly: made(at.joints(result?.report.joints.length ?? 0)),
  };
}
