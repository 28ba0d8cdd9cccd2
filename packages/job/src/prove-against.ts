import { loadClip } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { bestBoard, type proveProgram } from '@haunch/proof';
import { noBoardMatches } from './diagnostics.js';
import { type MakeInput, meaningOf, postOf, prepareJob } from './make.js';
import { POSTS } from './posts.js';
import { readingProblems } from './program-file.js';
import type { ProgramText } from './program-text.js';
import { choiceOf, proveSide, sidesOf } from './programs/board-sides.js';
import type { ProveFacts, ProvenText } from './prove-facts.js';
import type { ProveResult } from './report-schema.js';

export type { ProgramText };

/** A proof as the commands print it. */
export const resultOf = (
  program: ProgramText,
  against: string,
  { proof }: Extract<ReturnType<typeof proveProgram>, { ok: true }>['value'],
  diagnostics: readonly Diagnostic[],
): ProveResult => ({
  format: 'haunch-proof',
  version: 1,
  program: program.file,
  against,
  board: proof.board,
  pass: proof.pass,
  blocks: proof.blocks,
  seconds: Math.round(proof.seconds * 10) / 10,
  rules: proof.rules.map((r) => ({ ...r, findings: [...r.findings] })),
  parts: proof.parts.map(({ item, cut, gouge, excess, tabs, tabsWanted }) => ({
    part: item,
    cut,
    gouge,
    excess,
    tabs,
    tabsWanted,
  })),
  joints: proof.joints.map((j) => ({ ...j, fits: j.fits.map((f) => ({ ...f, lines: [...f.lines] })) })),
  diagnostics: diagnostics.map((d) => ({ ...d, locus: { ...d.locus } })),
});

/**
 * Proves any program against a job: the job is refitted and laid out again (same seed, same layout), the board
 * that the program cuts is found by itself, and the text is judged on it. `dialect` is the program's where it is not the job's.
 */
export async function proveAgainstJob(
  program: ProgramText,
  input: MakeInput & Pick<ProveFacts, 'dialect'>,
): Promise<Outcome<ProvenText>> {
  const prepared = await prepareJob(input);
  if (!prepared.ok) return prepared;
  const { job, laid } = prepared.value;
  input.progress?.('prove');
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const meaning = meaningOf({ dialect: input.dialect ?? post.value.dialect });
  const reading = readProgram(program.text, { file: program.file, ...meaning });
  const sides = sidesOf(laid.boards);
  const id = bestBoard(reading, sides.map(choiceOf));
  // A program so spoiled that its cuts match no board is still judged on the one that its name speaks of.
  const stem = program.file.replace(/^.*[\\/]/, '').replace(/\.[^.]*$/, '');
  const chosen =
    sides.find((s) => s.id === id) ??
    sides.find((s) => s.id === stem) ??
    (sides.length === 1 ? sides[0] : undefined);
  if (!chosen)
    return fail(
      // What the reader could not make out is the likeliest reason.
      ...readingProblems(reading, program.file),
      noBoardMatches(
        program.file,
        sides.map((s) => s.id),
      ),
    );
  const programs = [{ text: program.text, file: program.file }];
  const proved = proveSide({ job, laid }, chosen, { programs, ...meaning }, await loadClip());
  if (!proved.ok) return proved;
  const all = [...prepared.diagnostics, ...proved.diagnostics];
  const { board, items } = chosen.side;
  const { cutters, machine } = job;
  return ok(
    {
      result: resultOf(program, input.file, proved.value, all),
      scene: { text: program.text, ...meaning, board, items, cutters, machine },
    },
    all,
  );
}
