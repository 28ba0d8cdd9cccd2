const NUMBER = String.raw`-?\d+(?:\.\d+)?`;
/** One length or several of which the last names the unit: `6 mm`, `1200 × 300 mm`. */
const LENGTHS = new RegExp(`((?:${NUMBER} × )*${NUMBER}) mm\\b`, 'g');
/** A place on a board: `(50, 1170)`. */
const PLACE = new RegExp(`\\((${NUMBER}), (${NUMBER})\\)`, 'g');

/**
 * A sentence that was written in millimetres with every length and place as its reader wants them: `lengths` makes words of `6 mm` or
 * `1200 × 300 mm` (one figure or several, mm), `place` of `(50, 1170)`. What is no length stays.
 */
export const turnLengths = (
  sentence: string,
  to: {
    readonly lengths: (mm: readonly number[]) => string;
    readonly place: (x: number, y: number) => string;
  },
): string =>
  sentence
    .replace(LENGTHS, (_, all: string) => to.lengths(all.split(' × ').map(Number)))
    .replace(PLACE, (_, x: string, y: string) => to.place(Number(x), Number(y)));
