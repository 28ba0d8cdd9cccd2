import { type Clip, ringBounds, STAY, snap } from '@haunch/geometry';
import { type DialectMeaning, movePart, type Outcome, type RuleResult } from '@haunch/model';
import { type Proved, proveOrRefuse, proveProgram } from '@haunch/proof';
import { withTickets } from './cutting-of-job.js';
import type { Job } from './job.js';
import type { LaidBoard, LaidJob } from './lay-job.js';

/**
 * Parts where the machine really cuts them. A board's far corner may lie half a millimetre off, which harms no part: a part is judged
 * about its own middle.
 */
function itemsWhereCut({ machine, settings }: Job, items: LaidBoard['items']): LaidBoard['items'] {
  const { distortion } = machine;
  if (!distortion || settings.machine.calibration?.programs !== 'as it is') return items;
  return items.map((i) => {
    const { minX, minY, maxX, maxY } = ringBounds(i.part.outline.ring);
    const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
    const dx = snap(distortion.scaleX * x + distortion.shear * y);
    return { ...i, part: movePart({ ...STAY, dx, dy: snap(distortion.scaleY * y) }, i.part) };
  });
}

/** A program for a board of a laid job. */
export interface BoardProgram {
  readonly text: string;
  /** Name of the program's file, for the places of diagnostics. */
  readonly file?: string;
  /** What its words mean where its dialect differs from the report's language. */
  readonly meaning?: DialectMeaning;
}

/** What is known of one board of a laid job when programs are judged on it: its parts where they are cut, joints, cutters, machine. */
export const factsOfBoard = (
  { job, laid }: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  { board, items }: LaidBoard,
) => ({
  board,
  items: itemsWhereCut(job, withTickets(job, { board, items })),
  joints: laid.fitted.joinery.joints,
  thicknesses: laid.thicknesses,
  cutters: job.cutters,
  machine: job.machine,
  holding: job.holding,
});

/**
 * Judges a program by its text alone on one board of a laid job, with the job's cutters, machine and holding. mm.
 * Fails only where there is nothing to judge; see `proveProgram`.
 */
export const proveOnBoard = (
  context: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  laidBoard: LaidBoard,
  program: BoardProgram,
  clip: Clip,
): Outcome<Proved> => proveProgram({ ...program, ...factsOfBoard(context, laidBoard), clip });

/** The same for one who asks only whether the program passes: ends at the first rule that it breaks; see `proveOrRefuse`. */
export const proveOrRefuseOnBoard = (
  context: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  laidBoard: LaidBoard,
  program: BoardProgram,
  clip: Clip,
): Outcome<Proved | { readonly refused: RuleResult }> =>
  proveOrRefuse({ ...program, ...factsOfBoard(context, laidBoard), clip });
