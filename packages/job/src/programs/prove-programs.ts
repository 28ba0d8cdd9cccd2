import type { Clip } from '@haunch/geometry';
import type { DialectMeaning, Outcome } from '@haunch/model';
import { type ProofTask, type Proved, proveTask, type SequenceProgram } from '@haunch/proof';
import type { Job } from '../job.js';
import type { LaidBoard, LaidJob } from '../lay-job.js';
import { factsOfBoard } from '../prove-on-board.js';
import { bySides, upperSide } from './turn-over.js';
import type { MadeProgram } from './write-programs.js';

/** Programs of a board as they are run one after the other. */
export interface BoardSequence {
  readonly programs: readonly SequenceProgram[];
  readonly meaning?: DialectMeaning;
  /** How far single edges may be off, by edge id, mm, where another cutter makes them than they were planned for. */
  readonly edgeTolerances?: Readonly<Record<string, number>>;
}

/** The name of a program's file. */
export const fileOf = ({ name, program }: MadeProgram): string => `${name}.${program.extension}`;

/** A program as a sequence has it. */
export const inSequence = (p: MadeProgram): SequenceProgram => ({
  text: p.program.text,
  file: fileOf(p),
  ...(p.cutter === null ? {} : { cutters: [p.cutter] }),
});

/** Programs that are run one after the other on one board of a laid job, with what they are judged against: one alone, or several. */
export function proofTask(
  context: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  whole: LaidBoard,
  { programs, meaning, edgeTolerances }: BoardSequence,
): ProofTask {
  const { job } = context;
  const laid = bySides(context.laid, [whole]);
  const facts = factsOfBoard({ job, laid }, upperSide(whole));
  const means = meaning === undefined ? {} : { meaning };
  const [only, ...others] = programs;
  if (only !== undefined && others.length === 0 && only.cutters === undefined && !only.done)
    return { kind: 'program', input: { text: only.text, ...means, ...facts } };
  const bears = edgeTolerances === undefined ? {} : { edgeTolerances };
  return { kind: 'sequence', input: { ...means, ...bears, programs, ...facts } };
}

/** Judges programs that are run one after the other on one board of a laid job: the proof of `proofTask`. */
export const provePrograms = (
  context: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  whole: LaidBoard,
  sequence: BoardSequence,
  clip: Clip,
): Outcome<Proved> => proveTask(proofTask(context, whole, sequence), clip);
