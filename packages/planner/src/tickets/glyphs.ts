import type { Point } from '@haunch/geometry';

/** Strokes of each glyph on a grid 4 wide and 6 high, a place two digits, x and y; strokes parted by a bar. Drawn for this package. */
const STROKES: Readonly<Record<string, string>> = {
  A: '00 26 40|12 32',
  B: '00 06 36 45 44 33 03|33 42 41 30 00',
  C: '45 36 16 05 01 10 30 41',
  D: '00 06 26 44 42 20 00',
  E: '46 06 00 40|03 33',
  F: '46 06 00|03 33',
  G: '45 36 16 05 01 10 30 41 43 23',
  H: '00 06|40 46|03 43',
  I: '20 26|10 30|16 36',
  J: '01 10 20 31 36',
  K: '00 06|46 03 40',
  L: '06 00 40',
  M: '00 06 23 46 40',
  N: '00 06 40 46',
  O: '10 30 41 45 36 16 05 01 10',
  P: '00 06 36 45 44 33 03',
  Q: '10 30 41 45 36 16 05 01 10|22 40',
  R: '00 06 36 45 44 33 03|23 40',
  S: '45 36 16 05 04 13 33 42 41 30 10 01',
  T: '06 46|26 20',
  U: '06 01 10 30 41 46',
  V: '06 20 46',
  W: '06 10 23 30 46',
  X: '00 46|06 40',
  Y: '06 23 46|23 20',
  Z: '06 46 00 40',
  '0': '10 30 41 45 36 16 05 01 10|11 35',
  '1': '15 26 20|10 30',
  '2': '05 16 36 45 44 00 40',
  '3': '05 16 36 45 44 33 13|33 42 41 30 10 01',
  '4': '30 36 02 42',
  '5': '46 06 03 33 42 41 30 10 01',
  '6': '45 36 16 05 01 10 30 41 42 33 03',
  '7': '06 46 10',
  '8': '13 04 05 16 36 45 44 33 13 02 01 10 30 41 42 33',
  '9': '01 10 30 41 45 36 16 05 04 13 43',
  '-': '13 33',
  '.': '20 21',
  '/': '00 46',
};

/** Height of a glyph and the way from one to the next, in steps of its grid. */
const HEIGHT = 6;
const WIDE = 4;
const ADVANCE = 6;

/** The letters that can be engraved: A to Z, 0 to 9, `-`, `.` and `/`. */
export const GLYPHS: readonly string[] = Object.keys(STROKES).sort();

/** A text in single strokes. */
export interface StrokedText {
  /** Each stroke from place to place, from (0, 0) at the lower left, x along the line, mm. */
  readonly strokes: readonly (readonly Point[])[];
  readonly width: number;
  /** Letters for which there is no glyph; they leave a gap. */
  readonly unknown: readonly string[];
}

/**
 * Writes a text in single strokes, `height` mm high, small letters as capitals.
 * @throws RangeError when the height is not positive or the text has no letters.
 */
export function strokedText(text: string, height: number): StrokedText {
  const letters = [...text.toUpperCase()];
  if (!(height > 0) || letters.length === 0) throw new RangeError(`strokedText: '${text}' ${height} mm high`);
  const unit = height / HEIGHT;
  const strokes = letters.flatMap((letter, i) =>
    (STROKES[letter]?.split('|') ?? []).map((stroke) =>
      stroke.split(' ').map((p) => ({ x: (i * ADVANCE + Number(p[0])) * unit, y: Number(p[1]) * unit })),
    ),
  );
  const unknown = [...new Set(letters.filter((l) => l !== ' ' && STROKES[l] === undefined))];
  return { strokes, width: ((letters.length - 1) * ADVANCE + WIDE) * unit, unknown };
}
