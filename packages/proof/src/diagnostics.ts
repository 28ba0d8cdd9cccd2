import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const say = diagnosticsOf('prove');

const place = (file: string | undefined) => (file === undefined ? {} : { file });

/** A text without a single motion: nothing can be judged. */
export const nothingToProve = (file: string | undefined): Diagnostic =>
  say(
    'error',
    'nothing-to-prove',
    'The program moves nothing, so there is nothing to judge.',
    place(file),
    'Check that the right file was given and that it was written to its end.',
  );

/** No cutter is described, so nothing can be swept. */
export const noCutters = (board: string): Diagnostic =>
  say(
    'error',
    'no-cutters',
    'No cutter is described, so what the program cuts cannot be known.',
    { board },
    'Give each cutter with its number and its measured diameter.',
  );

/** No item is given for the board. */
export const noItems = (board: string): Diagnostic =>
  say(
    'error',
    'no-items',
    'Nothing is said to be cut from this board, so there is nothing to compare with.',
    { board },
    'Give the layout with the parts placed on this board.',
  );

/** More depths than are told apart. */
export const manyDepths = (file: string | undefined, step: number): Diagnostic =>
  say(
    'warning',
    'many-depths',
    `The program knows more depths than are told apart one by one; those within ${step} mm are taken as one.`,
    place(file),
    'Depths of floors are then judged to that step only.',
  );

/** The kernel refused the shapes of a board. */
export const shapesRefused = (board: string, reason: string): Diagnostic =>
  say(
    'error',
    'shapes-refused',
    `The shapes of this board could not be computed: ${reason}.`,
    { board },
    'Look for coordinates that are out of all proportion in the program or the layout.',
  );

/** The cutter's ways cross each other too often. */
export const tooDense = (file: string | undefined, { x, y }: Point): Diagnostic =>
  say(
    'error',
    'too-dense',
    `The cutter crosses its own ways more than 250,000 times, as near X${Math.round(x)} Y${Math.round(y)}; so dense a program is not judged.`,
    place(file),
    'Is it the program of a part? Ways that lie side by side are no hindrance; these run across each other.',
  );
