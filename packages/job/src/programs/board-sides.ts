import type { Clip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import type { BoardChoice, Proved } from '@haunch/proof';
import type { Job } from '../job.js';
import type { LaidBoard, LaidJob } from '../lay-job.js';
import { type BoardSequence, provePrograms } from './prove-programs.js';
import { isPin, underSide, upperSide } from './turn-over.js';
import { proveUnderSide } from './under-side.js';

/** A side of a laid board, by the name that its programs bear: the board's, or `<board>.under` for the first of two. */
export interface BoardSide {
  readonly id: string;
  /** The board with all that is cut on either side. */
  readonly whole: LaidBoard;
  /** What is cut on this side, as it lies there. */
  readonly side: LaidBoard;
  readonly isUnder: boolean;
}

/** All sides of the boards of a job, a first side after its board. */
export const sidesOf = (boards: readonly LaidBoard[]): BoardSide[] =>
  boards.flatMap((whole): BoardSide[] => {
    const under = underSide(whole);
    const { id } = whole.board;
    const upper = { id, whole, side: upperSide(whole), isUnder: false };
    return under === undefined ? [upper] : [upper, { id: under.board.id, whole, side: under, isUnder: true }];
  });

/** A side as a program is told by: what is cut right through the sheet there, on a first side the holes for its pins. */
export const choiceOf = ({ side: { board, items }, isUnder }: BoardSide): BoardChoice => ({
  board,
  items: isUnder ? items.filter((i) => isPin(i.item)) : items,
});

/** Judges programs that are run one after the other on one side of a board: `provePrograms`, or `proveUnderSide`. */
export const proveSide = (
  context: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  { whole, side, isUnder }: BoardSide,
  sequence: BoardSequence,
  clip: Clip,
): Outcome<Proved> =>
  isUnder
    ? proveUnderSide(context, whole, side, sequence, clip)
    : provePrograms(context, whole, sequence, clip);
