import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const lay = diagnosticsOf('lay');

/** A length in mm as people read it: at most four decimals. */
const mm = (v: number): string => `${Math.round(v * 10_000) / 10_000}`;
const size = (w: number, h: number): string => `${mm(w)} × ${mm(h)} mm`;
const both = (items: readonly string[]): string => items.join(' and ');

/** Nothing to lay. */
export const noItems = (): Diagnostic =>
  lay('error', 'no-items', 'There are no parts to lay out.', {}, 'Name at least one part for this layout.');

/** Nothing to lay it on. */
export const noBoards = (): Diagnostic =>
  lay('error', 'no-boards', 'There is no board to lay the parts on.', {}, 'Add a measured board to the job.');

/** Two items of one name. */
export const itemTwice = (part: string): Diagnostic =>
  lay(
    'error',
    'item-twice',
    `The name ${part} is given to two parts of this layout.`,
    { part },
    "Number the copies: the part's name, then /2, /3 and so on.",
  );

/** Two boards of one name. */
export const boardTwice = (board: string): Diagnostic =>
  lay(
    'error',
    'board-twice',
    `The name ${board} is given to two boards.`,
    { board },
    'Give each board its own name.',
  );

/** An outline that encloses nothing. */
export const emptyOutline = (part: string): Diagnostic =>
  lay(
    'error',
    'empty-outline',
    `The outline of ${part} encloses no area.`,
    { part },
    'Check the drawing of this part.',
  );

/** An outline that crosses itself or turns back on itself. */
export const crossedOutline = (part: string, at: { readonly x: number; readonly y: number }): Diagnostic =>
  lay(
    'error',
    'crossed-outline',
    `The outline of ${part} crosses itself or turns back at (${mm(at.x)}, ${mm(at.y)}) as drawn, so that it is not known what is inside.`,
    { part, at },
    'Check the drawing of this part for a loop, a spike or corners out of order.',
  );

/** A hole that is no hole of its part. */
export const holeOutside = (part: string, number: number): Diagnostic =>
  lay(
    'error',
    'hole-outside-part',
    `Hole ${number} of ${part} does not lie within its outline.`,
    { part },
    'Check the drawing of this part.',
  );

/** A board outline that encloses nothing. */
export const emptyBoard = (board: string): Diagnostic =>
  lay(
    'error',
    'empty-board',
    `The outline of board ${board} encloses no area.`,
    { board },
    'Measure the board again.',
  );

/** A board outline that crosses itself or turns back on itself. */
export const crossedBoard = (board: string, at: { readonly x: number; readonly y: number }): Diagnostic =>
  lay(
    'error',
    'crossed-board',
    `The outline of board ${board} crosses itself or turns back at (${mm(at.x)}, ${mm(at.y)}), so that it is not known what is board.`,
    { board, at },
    'Give its corners in their order round the board, each once.',
  );

/** An item that may take no turn. */
export const noTurn = (part: string): Diagnostic =>
  lay(
    'error',
    'no-turn',
    `${part} may lie in no direction.`,
    { part },
    'A part with grain needs a board with grain; allow at least one turn.',
  );

/** An item that may lie on none of the boards. */
export const noBoardAllowed = (part: string, wanted: readonly string[]): Diagnostic =>
  lay(
    'error',
    'no-board-allowed',
    wanted.length === 0
      ? `${part} may lie on no board.`
      : `${part} may lie only on ${wanted.join(', ')}, and no such board is there.`,
    { part },
    'Add a board of the stock that this part is meant for, or give the part another stock.',
  );

/** A part larger than every board it may lie on. */
export const partExceedsBoards = (
  part: string,
  [w, h]: readonly [number, number],
  largest: { readonly board: string; readonly width: number; readonly height: number } | undefined,
): Diagnostic =>
  lay(
    'error',
    'part-exceeds-boards',
    largest
      ? `${part} is ${size(w, h)} and fits none of its boards in an allowed turn; the largest has ${size(largest.width, largest.height)} to use.`
      : `${part} is ${size(w, h)} and none of its boards has any room to use.`,
    { part, ...(largest ? { board: largest.board } : {}) },
    'Use a larger board, allow another turn, lessen the edge margin, or divide the part.',
  );

/** A board that the edge margin uses up. */
export const marginTakesBoard = (board: string, w: number, h: number, margin: number): Diagnostic =>
  lay(
    'warning',
    'margin-takes-board',
    `Board ${board} is ${size(w, h)}; an edge margin of ${mm(margin)} mm leaves nothing of it.`,
    { board },
    'Lessen the edge margin or leave this board out.',
  );

/** A board that a keep-out covers. */
export const keepOutCoversBoard = (board: string): Diagnostic =>
  lay(
    'warning',
    'keep-out-covers-board',
    `A keep-out covers all that can be used of board ${board}.`,
    { board },
    'Draw the keep-out only round what nothing may cover, or leave this board out.',
  );

/** A layout that breaks a rule, found by the referee. */
export const invalidLayout = (strategy: string, count: number, first: string): Diagnostic =>
  lay(
    'warning',
    'invalid-layout',
    `A layout of the strategy ${strategy} was refused, with ${count === 1 ? 'one breach' : `${count} breaches`} of the rules: ${first}`,
    {},
    'This is a fault of the strategy; the layout was not used.',
  );

/** A file of layout problems that says something else than it should. */
export const problemField = (file: string, path: string, wanted: string): Diagnostic =>
  lay(
    'error',
    'problem-file',
    `This file of layout problems should have ${wanted}${path === '' ? '' : ' here'}.`,
    { file, ...(path === '' ? {} : { path }) },
    'Correct the file, or leave it out of the folder.',
  );

/** A line of a file of layout problems that cannot be read. */
export const problemLine = (file: string, line: number, what: string): Diagnostic =>
  lay(
    'error',
    'problem-line',
    `This file of layout problems cannot be read: ${what}.`,
    { file, line },
    'Correct the file, or leave it out of the folder.',
  );

/** Sentences for what the referee finds. */
export const VIOLATION_TEXT = {
  unknownItem: (item: string) => `${item} is in the layout but not among the parts.`,
  itemTwice: (item: string) => `${item} is in the layout more than once.`,
  itemMissing: (item: string) => `${item} is neither placed nor named as unplaced.`,
  unknownBoard: (item: string, board: string) => `${item} lies on board ${board}, which is not there.`,
  boardNotAllowed: (item: string, board: string) => `${item} may not lie on board ${board}.`,
  notFinite: (item: string) => `The place of ${item} is not a number.`,
  mirrored: (item: string) => `${item} is mirrored.`,
  turn: (item: string, degrees: number) => `${item} is turned by ${mm(degrees)}°, which is not allowed.`,
  overlap: (items: readonly string[], by: number) => `${both(items)} overlap, ${mm(by)} mm deep.`,
  spacing: (items: readonly string[], gap: number, spacing: number) =>
    `${both(items)} are ${mm(gap)} mm apart; ${mm(spacing)} mm is wanted.`,
  outside: (item: string, board: string, by: number) => `${item} reaches ${mm(by)} mm out of board ${board}.`,
  margin: (item: string, board: string, gap: number, margin: number) =>
    `${item} is ${mm(gap)} mm from the edge of board ${board}; ${mm(margin)} mm is wanted.`,
  inKeepOut: (item: string, board: string, by: number) =>
    `${item} lies ${mm(by)} mm deep in a keep-out of board ${board}.`,
  nearKeepOut: (item: string, board: string, gap: number, spacing: number) =>
    `${item} is ${mm(gap)} mm from a keep-out of board ${board}; ${mm(spacing)} mm is wanted.`,
  onDefect: (item: string, board: string, face: 'up' | 'down', by: number) =>
    `${item} shows a defect of the ${face === 'up' ? 'upper' : 'lower'} face of board ${board}, ${mm(by)} mm deep within its outline.`,
} as const;
