import { BOLD_WIDTHS, REGULAR_WIDTHS } from './helvetica-widths.js';
import type { OutlineFont } from './outline-font.js';
import { winAnsiCode } from './win-ansi.js';

/** Letters that are set in one font: codes of a standard font, or glyphs of the embedded one. */
export interface TextRun {
  readonly font: 'standard' | 'outline';
  readonly codes: readonly number[];
  /** The letters themselves, for what reads the text again. */
  readonly letters: readonly string[];
  /** In thousandths of the letters' size. */
  readonly width: number;
}

/** A text ready to be set. */
export interface SetText {
  readonly runs: readonly TextRun[];
  /** In thousandths of the letters' size. */
  readonly width: number;
  /** Letters for which no font has a glyph; they stand as their code points in brackets. */
  readonly strange: readonly string[];
}

/** What stands for a letter that cannot be set: nothing is dropped without a word. */
const inBrackets = (letter: string): string =>
  `[U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;

/** Marks that make no glyph of their own and may go: controls, joiners, direction marks. */
const SILENT = /\p{Cc}|\p{Cf}|\p{Variation_Selector}/u;

/**
 * Parts a text into runs of one font each: the standard font where it has the letter, else the embedded one, else the letter's code point
 * in brackets. Composed first (NFC).
 */
export function textRuns(text: string, bold: boolean, outline: OutlineFont | undefined): SetText {
  const widths = bold ? BOLD_WIDTHS : REGULAR_WIDTHS;
  const runs: { font: TextRun['font']; codes: number[]; letters: string[]; width: number }[] = [];
  const strange: string[] = [];
  const add = (font: TextRun['font'], code: number, letter: string, width: number): void => {
    let run = runs.at(-1);
    if (run?.font !== font) {
      run = { font, codes: [], letters: [], width: 0 };
      runs.push(run);
    }
    run.codes.push(code);
    run.letters.push(letter);
    run.width += width;
  };
  const standard = (letter: string): boolean => {
    const code = winAnsiCode(letter);
    if (code === undefined) return false;
    add('standard', code, letter, widths[code - 32]!);
    return true;
  };
  for (const letter of text.normalize('NFC')) {
    if (letter !== '\t' && SILENT.test(letter)) continue;
    if (standard(letter)) continue;
    const glyph = outline?.glyphOf(letter.codePointAt(0)!) ?? 0;
    if (outline !== undefined && glyph !== 0) add('outline', glyph, letter, outline.widthOf(glyph));
    else {
      strange.push(letter);
      for (const c of inBrackets(letter)) standard(c);
    }
  }
  return { runs, width: runs.reduce((sum, r) => sum + r.width, 0), strange };
}
