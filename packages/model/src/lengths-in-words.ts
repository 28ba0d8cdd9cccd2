const NUMBER = String.raw`-?\d+(?:\.\d+)?`;
/** What stands between figures that share a unit: `1200 × 300 mm`, `17.7 ± 0.02 mm`, `0.1 to 0.2 mm`. */
const BETWEEN = ' (?:×|±|…|to) ';
/** One length or several of which the last names the unit; digits of a name (`M-3`, `S2`) are none. */
const LENGTHS = new RegExp(
  String.raw`(?<![\w.-])(${NUMBER}(?:${BETWEEN}${NUMBER})*|(?<=between )${NUMBER} and ${NUMBER}) mm\b`,
  'g',
);
const EACH = new RegExp(NUMBER, 'g');
/** A place on a board: `(50, 1170)`. */
const PLACE = new RegExp(`\\((${NUMBER}), (${NUMBER})\\)`, 'g');

/**
 * A sentence that was written in millimetres with every length and place as its reader wants them: `figure` makes words of each figure of `6 mm`,
 * `1200 × 300 mm`, `17.7 ± 0.02 mm`, `0.1 to 0.2 mm` or `between 17.6 and 17.8 mm` (mm, and with how many decimals it was written), `unit` takes the
 * place of their `mm`, `place` makes words of `(50, 1170)`. What is no length stays.
 */
export const turnLengths = (
  sentence: string,
  to: {
    readonly figure: (mm: number, decimals: number) => string;
    readonly unit: string;
    readonly place: (x: number, y: number) => string;
  },
): string =>
  sentence
    .replace(
      LENGTHS,
      (_, all: string) =>
        `${all.replace(EACH, (n) => to.figure(Number(n), (n.split('.')[1] ?? '').length))} ${to.unit}`,
    )
    .replace(PLACE, (_, x: string, y: string) => to.place(Number(x), Number(y)));
