import type { Lettering, Pen } from '../pdf/pen.js';

type Type = Pick<Lettering, 'size' | 'bold'>;

/** A text cut off with an ellipsis so that it is no wider than `width` mm; as it is where it fits. */
export function shortened(pen: Pen, text: string, width: number, type: Type): string {
  if (pen.widthOf(text, type) <= width) return text;
  const letters = [...text];
  let [low, high] = [0, letters.length];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (pen.widthOf(`${letters.slice(0, middle).join('').trimEnd()}…`, type) <= width) low = middle;
    else high = middle - 1;
  }
  return `${letters.slice(0, low).join('').trimEnd()}…`;
}

/** A word broken into pieces no wider than `width` mm. */
function pieces(pen: Pen, word: string, width: number, type: Type): string[] {
  const out: string[] = [];
  let piece = '';
  for (const letter of word) {
    if (piece !== '' && pen.widthOf(piece + letter, type) > width) {
      out.push(piece);
      piece = '';
    }
    piece += letter;
  }
  return [...out, piece];
}

/** A text in lines no wider than `width` mm; words that are too long for a line are broken. */
export function wrapped(pen: Pen, text: string, width: number, type: Type): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((w) => w !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (pen.widthOf(longer, type) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    const parts = pieces(pen, word, width, type);
    lines.push(...parts.slice(0, -1));
    line = parts.at(-1)!;
  }
  return line === '' ? lines : [...lines, line];
}
