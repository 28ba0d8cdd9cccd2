import type { Clip } from '@haunch/geometry';
import type { Outcome } from '@haunch/model';
import type { BoardChoice, Proved } from '@haunch/proof';
import type { Job } from '../job.js';
import type { LaidBoard, LaidJob, PlacedItem } from '../lay-job.js';
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

/** The deepest recesses of a first side, each as a thing of its own: without pins nothing goes through the sheet there. */
function deepest(items: readonly PlacedItem[]): PlacedItem[] {
  const pockets = items.flatMap((i) => i.part.pockets.map((p) => ({ i, p })));
  const depth = Math.max(...pockets.map(({ p }) => p.depth));
  return pockets
    .filter(({ p }) => p.depth > depth - 0.01)
    .map(({ i, p }) => ({ ...i, part: { ...i.part, outline: p, through: [], pockets: [], holes: [] } }));
}

/** A side as a program is told by where it cuts deepest: what is cut right through the sheet; on a first side its pin holes, or its deepest recesses. */
export function choiceOf({ side: { board, items }, isUnder }: BoardSide): BoardChoice {
  if (!isUnder) return { board, items };
  const pins = items.filter((i) => isPin(i.item));
  return { board, items: pins.length > 0 ? pins : deepest(items) };
}

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
