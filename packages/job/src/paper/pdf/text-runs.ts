import type { OutlineFont } from './outline-font.js';
import { asTheyStand } from './right-to-left.js';
import type { TextRun } from './text-run.js';
import { winAnsi } from './win-ansi.js';

/** A text ready to be set. */
export interface SetText {
  readonly runs: readonly TextRun[];
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
 * in brackets. Composed first (NFC); in the order in which the runs stand from left to right.
 */
export function textRuns(text: string, outline: OutlineFont | undefined): SetText {
  const runs: { font: TextRun['font']; text: string }[] = [];
  const strange: string[] = [];
  const add = (font: TextRun['font'], letters: string): void => {
    const run = runs.at(-1);
    if (run?.font === font) run.text += letters;
    else runs.push({ font, text: letters });
  };
  for (const letter of text.normalize('NFC')) {
    if (letter !== '\t' && SILENT.test(letter)) continue;
    const standard = winAnsi(letter);
    if (standard !== undefined) add('standard', standard);
    else if (outline?.has(letter.codePointAt(0)!)) add('outline', letter);
    else {
      strange.push(letter);
      add('standard', inBrackets(letter));
    }
  }
  return { runs: asTheyStand(runs), strange };
}
