import {
  type Cutter,
  type Diagnostic,
  fail,
  type Move,
  type Outcome,
  ok,
  type PostProcessor,
  type Program,
  type Toolpath,
} from '@haunch/model';
import { commandedToolpath, writeProgram } from '@haunch/nc/write';
import { type Plan, splitToolpath, stepsOfChanges, withoutChanges } from '@haunch/planner';
import type { Job } from '../job.js';
import { type ProgramPart, setupWords } from './setup-words.js';

/** One of the programs by which a board is cut, in the order in which they are run. */
export interface MadeProgram {
  /** Its file's name without folder and ending, unlike that of every other program of the job. */
  readonly name: string;
  readonly program: Program;
  /** What the machine was told, and where each line of the program comes from. */
  readonly toolpath: Toolpath;
  /** The one cutter in the machine while it runs; null where the program changes cutters itself. */
  readonly cutter: Cutter | null;
  /** Ids of its workingsteps, in order. */
  readonly steps: readonly string[];
  /** What is set before it is started, a sentence a line. */
  readonly setup: readonly string[];
}

/** What the machine must be told so that it cuts the plan: the plan itself, or that through the inverse of its map. */
export const commandedOf = ({ machine, settings }: Job, toolpath: Toolpath): Toolpath =>
  machine.distortion && settings.machine.calibration?.programs === 'correct'
    ? commandedToolpath(toolpath, machine.distortion)
    : toolpath;

/** The line of a program, from 1, at which a step begins; 1 for a step that it does not hold. */
export function firstLineOf({ program, toolpath }: MadeProgram, step: string): number {
  const at = program.lineMoves.findIndex((i) => {
    const m = i === null ? undefined : toolpath.moves[i];
    // The notes of a program's head say what is set before it is started.
    return (
      m?.from === step &&
      m.kind !== 'pause' &&
      m.kind !== 'offset' &&
      !(m.kind === 'note' && !m.text.startsWith(step))
    );
  });
  return at < 0 ? 1 : at + 1;
}

/** The cutters of a toolpath, in the order of use. */
export const cuttersIn = ({ moves }: Toolpath, cutters: readonly Cutter[]): Cutter[] => {
  const numbers = [...new Set(moves.flatMap((m) => (m.kind === 'cutter' ? [m.number] : [])))];
  return numbers.flatMap((n) => cutters.filter((c) => c.number === n));
};

/** A wait after every change of cutter but for one before which nothing was cut, to set Z zero with it. */
const withTouchOff = (toolpath: Toolpath): Toolpath => {
  let cutting = false;
  return {
    ...toolpath,
    moves: toolpath.moves.flatMap((m): Move[] => {
      if ('to' in m && m.kind !== 'rapid') cutting = true;
      return m.kind === 'cutter' && cutting
        ? [m, { kind: 'pause', text: `set Z0 again with T${m.number} ${m.id}`, from: m.from }]
        : [m];
    }),
  };
};

/** The moves with the setup as notes before them, and the work offset where it is not the first. */
function headed(toolpath: Toolpath, words: readonly string[], { machine }: Job): Toolpath {
  const from = toolpath.moves[0]?.from;
  if (from === undefined) return toolpath;
  const { workOffset = 1 } = machine;
  const offset: Move[] = workOffset === 1 ? [] : [{ kind: 'offset', code: 53 + workOffset, z: 0, from }];
  return {
    ...toolpath,
    moves: [...words.map((text): Move => ({ kind: 'note', text, from })), ...offset, ...toolpath.moves],
  };
}

/** A toolpath as one program with its head: what is set before it is started stands in its first comments. */
export function writeOne(
  job: Job,
  toolpath: Toolpath,
  post: PostProcessor,
  { title, name, part }: { readonly title: string; readonly name: string; readonly part: ProgramPart },
): Outcome<MadeProgram> {
  const setup = setupWords(job, part);
  const { changer = true } = job.machine;
  const touched = job.settings.machine.toolLength === 'touched off';
  const moves = !changer ? withoutChanges(toolpath) : touched ? withTouchOff(toolpath) : toolpath;
  const told = commandedOf(job, headed(moves, setup, job));
  const written = writeProgram(told, post, { title });
  if (!written.ok) return written;
  return ok(
    {
      name,
      program: written.value,
      toolpath: told,
      cutter: changer ? null : (part.cutters[0] ?? null),
      steps: [...new Set(toolpath.moves.map((m) => m.from))],
      setup,
    },
    written.diagnostics,
  );
}

/** The name of a board's program, of several. */
export const programName = (board: string, number: number, of: number, cutters: readonly Cutter[]): string =>
  of === 1 ? board : `${board}.${number}-${cutters.map((c) => c.id.replaceAll('/', '-')).join('-')}`;

/**
 * A board's plan as the programs by which it is cut: one, or on a machine without a changer one for each time that a cutter is put in. Each
 * states in its head what is set before it is started.
 */
export function writePrograms(
  job: Job,
  { toolpath }: Pick<Plan, 'toolpath'>,
  post: PostProcessor,
  title: string,
  first: readonly string[] = [],
): Outcome<MadeProgram[]> {
  const pieces =
    job.machine.changer === false ? splitToolpath(toolpath, stepsOfChanges(toolpath)) : [toolpath];
  const said: Diagnostic[] = [];
  const programs: MadeProgram[] = [];
  for (const [i, piece] of pieces.entries()) {
    const cutters = cuttersIn(piece, job.cutters);
    const part: ProgramPart = {
      board: toolpath.board,
      number: i + 1,
      of: pieces.length,
      cutters,
      ...(i === 0 ? { first } : {}),
    };
    const name = programName(toolpath.board, i + 1, pieces.length, cutters);
    const written = writeOne(job, piece, post, { title, name, part });
    if (!written.ok) return fail(...said, ...written.diagnostics);
    said.push(...written.diagnostics);
    programs.push(written.value);
  }
  return ok(programs, said);
}
