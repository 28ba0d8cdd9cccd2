import type { Clip } from '@haunch/geometry';
import type { DialectMeaning, Outcome } from '@haunch/model';
import { type Proved, proveProgram } from '@haunch/proof';
import type { Job } from './job.js';
import type { LaidBoard, LaidJob } from './lay-job.js';

/** A program for a board of a laid job. */
export interface BoardProgram {
  readonly text: string;
  /** Name of the program's file, for the places of diagnostics. */
  readonly file?: string;
  /** What its words mean where its dialect differs from the report's language. */
  readonly meaning?: DialectMeaning;
}

/**
 * Judges a program by its text alone on one board of a laid job, with the job's cutters, machine and holding. mm.
 * Fails only where there is nothing to judge; see `proveProgram`.
 */
export const proveOnBoard = (
  { job, laid }: { readonly job: Job; readonly laid: LaidJob },
  { board, items }: LaidBoard,
  program: BoardProgram,
  clip: Clip,
): Outcome<Proved> =>
  proveProgram({
    ...program,
    board,
    items,
    joints: laid.fitted.joinery.joints,
    thicknesses: laid.thicknesses,
    cutters: job.cutters,
    machine: job.machine,
    holding: job.holding,
    clip,
  });
