import { loadClip } from '@haunch/geometry';
import { fail, type Outcome, ok } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { bestBoard, type SequenceProgram } from '@haunch/proof';
import { noBoardMatches, unknownName } from '../diagnostics.js';
import { type MakeInput, meaningOf, postOf, prepareJob } from '../make.js';
import { POSTS } from '../posts.js';
import { type ProgramText, resultOf } from '../prove-against.js';
import type { ProveFacts } from '../prove-facts.js';
import type { SeveralReplayInput } from '../replay/replay-several.js';
import type { ProveResult } from '../report-schema.js';
import { choiceOf, proveSide, sidesOf } from './board-sides.js';
import { cutterInHandUnknown } from './diagnostics.js';

/** Several programs of one board, in the order in which they are run. */
export interface SeveralPrograms {
  readonly programs: readonly ProgramText[];
  /** The one cutter in the machine for each of them, by its id in the job; where a program names its cutters none need be said. */
  readonly inHand?: readonly string[];
}

/** A proof of several programs, and what their replay needs. */
export interface ProvenTexts {
  readonly result: ProveResult;
  readonly scene: Omit<SeveralReplayInput, 'title'>;
}

/**
 * Proves programs that are run one after the other on one board against a job: laid out again as `proveAgainstJob` does it, the board is the
 * one that they cut together, and each is judged on the stock that those before it left.
 */
export async function proveSeveralAgainstJob(
  { programs, inHand = [] }: SeveralPrograms,
  input: MakeInput & Pick<ProveFacts, 'dialect'>,
): Promise<Outcome<ProvenTexts>> {
  const prepared = await prepareJob(input);
  if (!prepared.ok) return prepared;
  const { job, laid } = prepared.value;
  input.progress?.('prove');
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const meaning = meaningOf({ dialect: input.dialect ?? post.value.dialect });
  const names = programs.map((p) => p.file).join(', ');
  const readings = programs.map((p) => readProgram(p.text, { file: p.file, ...meaning }));
  const unnamed = readings.map((r) => r.moves.every((m) => !('tool' in m) || m.tool === null));
  const sequence: SequenceProgram[] = [];
  for (const [i, { text, file }] of programs.entries()) {
    const id = inHand[i];
    const cutter = job.cutters.find((c) => c.id === id);
    if (id !== undefined && cutter === undefined)
      return fail(unknownName('cutter', id, 'cutters', job.file, job.lineOf(['cutters'])));
    if (cutter === undefined && unnamed[i] && job.cutters.length > 1)
      return fail(
        cutterInHandUnknown(
          file,
          job.cutters.map((c) => c.id),
        ),
      );
    sequence.push({ text, file, ...(cutter === undefined ? {} : { cutters: [cutter] }) });
  }
  // Which board it is, the deepest cuts of all of them together say.
  const whole = { ...readings.at(-1)!, moves: readings.flatMap((r) => r.moves) };
  const sides = sidesOf(laid.boards);
  const id = bestBoard(whole, sides.map(choiceOf));
  const chosen = sides.find((s) => s.id === id) ?? (sides.length === 1 ? sides[0] : undefined);
  if (chosen === undefined)
    return fail(
      ...readings.flatMap((r) => r.diagnostics.filter((d) => d.level === 'error').slice(0, 4)),
      noBoardMatches(
        names,
        sides.map((s) => s.id),
      ),
    );
  const proved = proveSide({ job, laid }, chosen, { programs: sequence, ...meaning }, await loadClip());
  if (!proved.ok) return proved;
  const all = [...prepared.diagnostics, ...proved.diagnostics];
  const { board, items } = chosen.side;
  const { cutters, machine } = job;
  return ok(
    {
      result: resultOf({ text: '', file: names }, input.file, proved.value, all),
      scene: { programs: sequence, ...meaning, board, items, cutters, machine },
    },
    all,
  );
}
