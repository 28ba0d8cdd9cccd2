import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const job = diagnosticsOf('job');

const mm = (v: number): string => `${Math.round(v * 1000) / 1000} mm`;

/** A board's outline that crosses itself, or runs over itself. */
export const boardOutlineCrosses = (board: string, { x, y }: Point, locus: Locus): Diagnostic =>
  job(
    'error',
    'board-outline-crosses',
    `the outline of board '${board}' crosses itself or runs over itself at (${mm(x)}, ${mm(y)})`,
    { ...locus, at: { x, y } },
    'Give its corners in their order round the board, each once.',
  );

/** A board's outline that encloses nothing. */
export const boardOutlineFlat = (board: string, locus: Locus): Diagnostic =>
  job(
    'error',
    'board-outline-flat',
    `the outline of board '${board}' encloses no area`,
    locus,
    'Give its corners in their order round the board, three of them at least, or two with arcs.',
  );

/** An arc of a board's outline that no circle can have. */
export const boardOutlineArc = (board: string, [x, y]: readonly [number, number], locus: Locus): Diagnostic =>
  job(
    'error',
    'board-outline-arc',
    `no arc of the outline of board '${board}' runs through (${mm(x)}, ${mm(y)}) from its corner to the next`,
    locus,
    'Measure a place on the arc, about its middle; leave `through` out where the edge is straight.',
  );

/** A board's outline that is not as wide and high as the board. */
export const boardOutlineSize = (
  board: string,
  { minX, minY, maxX, maxY }: Readonly<Record<'minX' | 'minY' | 'maxX' | 'maxY', number>>,
  [width, height]: readonly [number, number],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'board-outline-size',
    `the outline of board '${board}' reaches from (${mm(minX)}, ${mm(minY)}) to (${mm(maxX)}, ${mm(maxY)}), and the board is ${mm(width)} × ${mm(height)}`,
    locus,
    'Count corners from the lower left corner of the box round the board; its width and height are those of this box.',
  );

/** A flaw that lies wholly off its board. */
export const defectOffBoard = (
  board: string,
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'defect-off-board',
    `the defect from (${mm(Math.min(x0, x1))}, ${mm(Math.min(y0, y1))}) to (${mm(Math.max(x0, x1))}, ${mm(Math.max(y0, y1))}) lies off board '${board}', or has no width or height`,
    locus,
    'Places count from the lower left corner of the board as it lies on the machine, X to the right, whichever face the defect is on.',
  );

/** A screw, clamp or zone that lies wholly off its board. */
export const keepOutOffBoard = (
  board: string,
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  [width, height]: readonly [number, number],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'keep-out-off-board',
    `it lies from (${mm(Math.min(x0, x1))}, ${mm(Math.min(y0, y1))}) to (${mm(Math.max(x0, x1))}, ${mm(Math.max(y0, y1))}), off board '${board}' of ${mm(width)} × ${mm(height)}`,
    locus,
    'Places count from the lower left corner of the board as it lies on the machine, X to the right.',
  );

/** A pin whose hole would not lie in the board. */
export const pinOffBoard = (
  board: string,
  [x, y]: readonly [number, number],
  [width, height]: readonly [number, number],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'pin-off-board',
    `the pin at (${mm(x)}, ${mm(y)}) has no place for its hole in board '${board}' of ${mm(width)} × ${mm(height)}`,
    locus,
    'Places count from the lower left corner of the board as it lies on the machine; pins stand in its waste.',
  );

/** A pin on which no pin hole comes to lie when the sheet is turned over. */
export const pinNotMet = (
  board: string,
  [x, y]: readonly [number, number],
  [u, v]: readonly [number, number],
  axis: 'x' | 'y',
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'pin-not-met',
    `turned over along ${axis.toUpperCase()}, the hole of the pin at (${mm(x)}, ${mm(y)}) comes to lie at (${mm(u)}, ${mm(v)}), where board '${board}' has no pin`,
    locus,
    'Give every pin a partner at its mirror image about the middle line of the board, or put it on that line.',
  );

/** A stop that touches no edge of its board. */
export const stopOffEdge = (
  board: string,
  { x, y }: Point,
  [width, height]: readonly [number, number],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'stop-off-edge',
    `the stop at (${mm(x)}, ${mm(y)}) touches no edge of board '${board}' of ${mm(width)} × ${mm(height)}`,
    locus,
    'Give the places where stops touch the edges, from the lower left corner of the board as it lies on the machine.',
  );

/** Stops that do not say how a sheet lies. */
export const stopsDoNotLocate = (
  board: string,
  axis: 'x' | 'y',
  staying: readonly string[],
  changing: readonly string[],
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'stops-do-not-locate',
    `board '${board}' is not located by its stops when it is turned over along ${axis.toUpperCase()}`,
    locus,
    `Two stops or more touch its ${staying.join(' or its ')} edge, which keeps it straight by the same edge after the turn, and one or more its ${changing.join(' or its ')} edge; opposite edges cannot both touch.`,
  );

/** No mortise on a board in which a plug could be tried. */
export const noMortiseForPlug = (board: string, file: string, line: number): Diagnostic =>
  job(
    'note',
    'no-mortise-for-plug',
    'a pause to try the plug was asked for, but no mortise or housing that a plate enters between two walls is cut from this board',
    { file, line, path: 'pauses.plug', board },
    'Nothing is to be done: open slots are cut with the outline, when the part is nearly free.',
  );

/** A re-entry point that a board's plan does not have. */
export const noReEntry = (from: string, board: string, names: readonly string[]): Diagnostic =>
  job(
    'error',
    'no-re-entry',
    names.length === 0
      ? `nothing is cut from board '${board}'`
      : `there is no re-entry point '${from}' on board '${board}'`,
    { board },
    `Give the number or name of a step as the program's comments and the report have it: ${names.slice(0, 12).join(', ')}${names.length > 12 ? ` … (${names.length}; haunch resume --list shows them all)` : ''}.`,
  );

/** A name that several re-entry points share. */
export const reEntryTwice = (from: string, board: string, names: readonly string[]): Diagnostic =>
  job(
    'error',
    're-entry-twice',
    `'${from}' is the name of ${names.length} re-entry points on board '${board}'`,
    { board },
    `Give the number too: ${names.slice(0, 12).join(', ')}.`,
  );

/** A board that a command names and the job does not cut from. */
export const boardNotCut = (board: string, boards: readonly string[]): Diagnostic =>
  job(
    'error',
    'board-not-cut',
    `nothing is cut from a board '${board}'`,
    { board },
    `Boards that are cut from: ${boards.join(', ')}.`,
  );

/** A cutter of which a program of a machine without a changer was not told. */
export const cutterInHandUnknown = (program: string, known: readonly string[]): Diagnostic =>
  job(
    'error',
    'cutter-in-hand',
    'the program names no cutter and the machine has no changer, so what is in the spindle cannot be known',
    { file: program },
    `Say it for every program, in their order, with --in-hand: ${known.join(', ')}.`,
  );
