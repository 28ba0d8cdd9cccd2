import type { TextRun } from './text-run.js';

/** Letters of scripts that are written from right to left, with the marks on them. */
const RIGHT_TO_LEFT =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]\p{M}*/u;
/** A piece of a run: letters of such a script, a figure, a word, or a single sign. */
const PIECE = new RegExp(
  `(?:${RIGHT_TO_LEFT.source})+|\\d+(?:[.,:/]\\d+)*|\\p{L}[\\p{L}\\p{M}\\p{N}]*|.`,
  'gsu',
);
const MIRRORED: Readonly<Record<string, string>> = {
  '(': ')',
  ')': '(',
  '[': ']',
  ']': '[',
  '{': '}',
  '}': '{',
  '<': '>',
  '>': '<',
  '«': '»',
  '»': '«',
};
const OPENED: Readonly<Record<string, string>> = { ')': '(', ']': '[', '}': '{' };

const isRightToLeft = ({ font, text }: TextRun): boolean => font === 'outline' && RIGHT_TO_LEFT.test(text);
const isFigure = ({ text }: TextRun): boolean => /^\d/.test(text);
const isLetters = (p: TextRun): boolean => !isRightToLeft(p) && /^\p{L}/u.test(p.text);

/** The piece after the last one of what begins at `from` and is written from right to left: up to a letter of another script. */
function endOf(pieces: readonly TextRun[], from: number): number {
  let end = from + 1;
  for (let i = from; i < pieces.length && !isLetters(pieces[i]!); i++)
    if (isRightToLeft(pieces[i]!) || isFigure(pieces[i]!)) end = i + 1;
  // A bracket that was opened there is closed there.
  const inside = pieces.slice(from, end);
  const opened = OPENED[pieces[end]?.text ?? ''];
  return opened !== undefined && inside.some((p) => p.text === opened) ? end + 1 : end;
}

/**
 * Runs as they stand on a line, from left to right: words of scripts that are written from right to left follow each other in that
 * direction, figures among them keep theirs, brackets are mirrored. One level of what the Unicode Standard, annex 9, asks for, in a line that runs from
 * left to right: names need no more. Letters within a word are turned by the font's own shaping.
 */
export function asTheyStand(runs: readonly TextRun[]): readonly TextRun[] {
  if (!runs.some(isRightToLeft)) return runs;
  const pieces = runs.flatMap(({ font, text }) =>
    (text.match(PIECE) ?? []).map((own): TextRun => ({ font, text: own })),
  );
  const out: TextRun[] = [];
  for (let i = 0; i < pieces.length; ) {
    if (!isRightToLeft(pieces[i]!)) {
      out.push(pieces[i++]!);
      continue;
    }
    const end = endOf(pieces, i);
    for (const p of pieces.slice(i, end).reverse()) out.push({ ...p, text: MIRRORED[p.text] ?? p.text });
    i = end;
  }
  return out;
}
