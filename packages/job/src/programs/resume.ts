import { loadClip } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok, type PostProcessor, type Proof } from '@haunch/model';
import { type Plan, splitToolpath } from '@haunch/planner';
import type { Proved, SequenceProgram } from '@haunch/proof';
import type { Job } from '../job.js';
import { type MakeInput, meaningOf, type PreparedJob, planLaid, postOf, prepareJob } from '../make.js';
import { POSTS } from '../posts.js';
import { type BoardSide, proveSide, sidesOf } from './board-sides.js';
import { boardNotCut, noReEntry, reEntryTwice } from './diagnostics.js';
import { edgesBear } from './edges-bear.js';
import { inSequence } from './prove-programs.js';
import { secondSideWords, sideAgainWords } from './turn-over.js';
import { writeUnderSide } from './under-side.js';
import {
  cuttersIn,
  firstLineOf,
  type MadeProgram,
  programName,
  writeOne,
  writePrograms,
} from './write-programs.js';

/** A place at which a board's work can be taken up again. */
export interface ReEntry {
  /** The step's number on its board and its feature, such as `007 EL.m1`. */
  readonly name: string;
  readonly step: string;
  readonly kind: string;
  readonly cutter: string;
  /** Which of the board's programs it is in, from 1, and at which of its lines, from 1, it begins. */
  readonly program: number;
  readonly line: number;
}

/** Where work goes on, and with what. */
export interface ResumeRequest {
  readonly board: string;
  /** A step's number, its name, its feature, or its whole id. */
  readonly from: string;
  /** What the cutter that was put in for the broken one really cuts, mm, where that is another diameter. */
  readonly diameter?: number;
}

/** The rest of a board's work as a program of its own, proved after the part already cut. */
export interface Resumed {
  readonly kind: 'resumed';
  readonly board: string;
  readonly from: ReEntry;
  readonly program: MadeProgram;
  /** Programs of the board that come after it and stay as they were made. */
  readonly after: readonly MadeProgram[];
  /** Of all that the board is cut by: what is cut already, the rest, and what comes after it. */
  readonly proof: Proof;
  /** How far edges come out beside their places because the new cutter's diameter is another, mm: proud with a thinner one, short with a thicker. */
  readonly beside: number;
}

const nameOf = (board: string, step: string): string => step.slice(board.length + 1);

/** All places at which a board's work can be taken up again, in order: the beginning of every workingstep. */
export function reEntries(
  board: string,
  steps: readonly { readonly id: string; readonly kind: string; readonly cutter: string }[],
  programs: readonly MadeProgram[],
): ReEntry[] {
  return steps.map(({ id, kind, cutter }) => {
    const at = Math.max(
      0,
      programs.findIndex((p) => p.steps.includes(id)),
    );
    return {
      name: nameOf(board, id),
      step: id,
      kind,
      cutter,
      program: at + 1,
      line: firstLineOf(programs[at]!, id),
    };
  });
}

/** The re-entry point that is meant by a number, a name, a feature or an id; or why it is not clear. */
export function findReEntry(board: string, entries: readonly ReEntry[], from: string): Outcome<ReEntry> {
  const wanted = from.trim();
  const asNumber = /^\d+$/.test(wanted) ? Number(wanted) : null;
  const number = ({ name }: ReEntry): string => name.split(' ')[0]!;
  const exact = entries.filter(
    (e) => e.step === wanted || e.name === wanted || (asNumber !== null && Number(number(e)) === asNumber),
  );
  const found = exact.length > 0 ? exact : entries.filter((e) => e.name === `${number(e)} ${wanted}`);
  const names = (some: readonly ReEntry[]) => some.map((e) => e.name);
  if (found.length > 1) return fail(reEntryTwice(wanted, board, names(found)));
  return found[0] === undefined ? fail(noReEntry(wanted, board, names(entries))) : ok(found[0]);
}

interface Ready {
  readonly job: Job;
  readonly programs: readonly MadeProgram[];
  readonly entries: readonly ReEntry[];
  /** `beside`: how far edges may be off because another cutter makes them than they were planned for, mm. */
  prove(programs: readonly SequenceProgram[], beside: number): Promise<Outcome<Proved>>;
  rest(entry: ReEntry): Outcome<MadeProgram>;
}

/** The plan and the programs of one side of a board, as making the job makes them. */
function writeSide(
  prepared: PreparedJob,
  { whole, isUnder }: BoardSide,
  post: PostProcessor,
): Outcome<{ readonly plan: Plan; readonly programs: readonly MadeProgram[] }> {
  const { job } = prepared;
  if (isUnder) {
    const under = writeUnderSide(prepared, whole, post);
    return under.ok ? ok(under.value!, under.diagnostics) : under;
  }
  const plan = planLaid(prepared, whole);
  if (!plan.ok) return plan;
  const programs = writePrograms(job, plan.value, post, job.settings.title, secondSideWords(whole));
  return programs.ok ? ok({ plan: plan.value, programs: programs.value }) : programs;
}

/** A board's plan and programs made again, as the same job, seed and version make them. */
async function ready(input: MakeInput, board: string): Promise<Outcome<Ready>> {
  const prepared = await prepareJob(input);
  if (!prepared.ok) return prepared;
  const { job, laid } = prepared.value;
  const sides = sidesOf(laid.boards);
  const side = sides.find((s) => s.id === board);
  if (side === undefined)
    return fail(
      boardNotCut(
        board,
        sides.map((s) => s.id),
      ),
    );
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  input.progress?.('plan', board);
  const written = writeSide(prepared.value, side, post.value);
  if (!written.ok) return written;
  const { plan, programs } = written.value;
  const { title } = job.settings;
  const entries = reEntries(board, plan.workplan.steps, programs);
  return ok(
    {
      job,
      programs,
      entries,
      prove: async (programs, beside) =>
        proveSide(
          { job, laid },
          side,
          { programs, ...meaningOf(post.value), ...edgesBear(side.side.items, beside) },
          await loadClip(),
        ),
      rest(entry) {
        const of = programs.length;
        const whole = splitToolpath(
          plan.toolpath,
          programs.slice(1).map((p) => p.steps[0]!),
        )[entry.program - 1]!;
        const piece = splitToolpath(whole, [entry.step]).at(-1)!;
        const cutters = cuttersIn(piece, job.cutters);
        const name = `${programName(board, entry.program, of, cutters)}-from-${entry.name.split(' ')[0]}`;
        return writeOne(job, piece, post.value, {
          title,
          name,
          part: {
            board,
            number: entry.program,
            of,
            cutters,
            resumes: entry.name,
            first: sideAgainWords(side.whole, side.isUnder),
          },
        });
      },
    },
    prepared.diagnostics,
  );
}

/** The places at which work on a board can be taken up again. Fails where the job cannot be laid out or planned. */
export async function listReEntries(input: MakeInput, board: string): Promise<Outcome<readonly ReEntry[]>> {
  const made = await ready(input, board);
  return made.ok ? ok(made.value.entries, made.diagnostics) : made;
}

/** What of the board's programs was cut when work broke off before a step: whole programs, and one up to that step's line. */
function cutBefore(programs: readonly MadeProgram[], { program, line }: ReEntry): SequenceProgram[] {
  return programs.slice(0, program).map((p, i): SequenceProgram => {
    const own = inSequence(p);
    if (i < program - 1) return { ...own, done: true };
    const lines = own.text.split('\n').slice(0, line - 1);
    return { ...own, text: lines.map((l) => `${l}\n`).join(''), done: true };
  });
}

/**
 * The rest of a board's work, from a re-entry point on, as a program of its own with a safe start: the cutter raised, called where the machine
 * changes it, the spindle brought up to speed, the approach from above. Proved in sequence: after the text of the job's own program
 * up to that point, and before the programs that come after it. What the broken cutter has cut beyond the point is cut again, in air.
 * With a `diameter` the rest is judged with what the new cutter really cuts; its paths stay, so that all joints are judged anew by their
 * windows, and edges may be off by what the cutter makes them differ, up to `ANOTHER_CUTTER`.
 */
export async function resumeBoard(
  input: MakeInput,
  { board, from, diameter }: ResumeRequest,
): Promise<Outcome<Resumed>> {
  const made = await ready(input, board);
  if (!made.ok) return made;
  const { programs, entries, rest, prove } = made.value;
  const entry = findReEntry(board, entries, from);
  if (!entry.ok) return entry;
  const program = rest(entry.value);
  if (!program.ok) return program;
  input.progress?.('prove', board);
  const after = programs.slice(entry.value.program);
  const replaced = <P extends SequenceProgram>(p: P): P => {
    const cutters = (p.cutters ?? made.value.job.cutters).map((c) =>
      c.id === entry.value.cutter && diameter !== undefined ? { ...c, diameter } : c,
    );
    return diameter === undefined ? p : { ...p, cutters };
  };
  const planned = made.value.job.cutters.find((c) => c.id === entry.value.cutter)?.diameter ?? 0;
  const beside = (planned - (diameter ?? planned)) / 2;
  const proved = await prove(
    [...cutBefore(programs, entry.value), ...[program.value, ...after].map(inSequence).map(replaced)],
    Math.abs(beside),
  );
  if (!proved.ok) return proved;
  const said: Diagnostic[] = [...made.diagnostics, ...program.diagnostics, ...proved.diagnostics];
  return ok(
    {
      kind: 'resumed',
      board,
      from: entry.value,
      program: program.value,
      after,
      proof: proved.value.proof,
      beside,
    },
    said,
  );
}
