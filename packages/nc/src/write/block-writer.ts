import type { Block, Dialect, Word } from '@haunch/model';
import { commentText } from './comment-text.js';
import { formatNumber } from './format-number.js';

/** Writes blocks as lines and remembers what is in force, so that repeated words are left out. */
export interface BlockWriter {
  readonly lines: string[];
  readonly lineMoves: (number | null)[];
  /** Writes a block; returns the words' text when it is too long to write, else null. */
  write(block: Block, move: number | null): string | null;
  /** Forgets what is in force: the next words are written in full. */
  forget(): void;
}

const isMotion = (w: Word): boolean =>
  w.letter === 'G' && (w.value === 0 || w.value === 1 || w.value === 2 || w.value === 3);
const isAxis = (w: Word): boolean => w.letter === 'X' || w.letter === 'Y' || w.letter === 'Z';

/** The greatest line number of the language (NISTIR 6556, 3.3.1); counting starts again after it. */
const LAST_NUMBER = 99_999;

/** A writer for one program. The post's name is for the errors of a post that writes no words. */
export function blockWriter(dialect: Dialect, post: string): BlockWriter {
  const lines: string[] = [];
  const lineMoves: (number | null)[] = [];
  const inForce = new Map<string, string>();
  let number = dialect.lineNumbers?.start ?? 0;

  const { blanks = true, point = 'where needed', leadingZero = true } = dialect.words ?? {};
  const gapOf = blanks ? ' ' : '';
  const formed = (text: string): string => {
    const pointed = point === 'always' && !text.includes('.') ? `${text}.` : text;
    return leadingZero ? pointed : pointed.replace(/^(-?)0\.(?=\d)/, '$1.');
  };

  const spell = (w: Word): string => {
    if (!/^[A-Z]$/.test(w.letter) || !Number.isFinite(w.value))
      throw new TypeError(`${post}: wrote ${JSON.stringify(w.letter)} ${w.value}, which is no word`);
    const text = formatNumber(
      w.value,
      w.integer ? 0 : w.letter === 'F' ? dialect.feedDecimals : dialect.decimals,
    );
    return w.letter + (w.integer ? text : formed(text));
  };

  /** The words of a block that must be written; none when nothing of it would move or set anything. */
  function needed(words: readonly Word[]): readonly string[] {
    const spelt = words.map(spell);
    // Words beside another G code (an offset, a machine move) mean something else: they are no place to remember.
    const plain = words.every((w) => w.letter !== 'G' || isMotion(w));
    if (!dialect.modal || !plain) {
      if (words.some(isAxis)) for (const axis of ['X', 'Y', 'Z']) inForce.delete(axis);
      if (dialect.modal && words.some(isMotion)) inForce.delete('motion');
      return spelt;
    }
    const motion = words.find(isMotion);
    const arc = motion !== undefined && motion.value >= 2;
    const key = (w: Word): string | null =>
      isMotion(w) ? 'motion' : isAxis(w) || w.letter === 'F' ? w.letter : null;
    const news = words.map((w, i) => {
      const k = key(w);
      return k === null || inForce.get(k) !== spelt[i];
    });
    const moves = words.some((w, i) => isAxis(w) && news[i]);
    if (
      !arc &&
      words.some(isAxis) &&
      !moves &&
      words.every((w) => isAxis(w) || isMotion(w) || w.letter === 'F')
    )
      return [];
    // An arc needs a word in its plane even where it ends at the same x and y.
    const inPlane = words.some((w, i) => (w.letter === 'X' || w.letter === 'Y') && news[i]);
    words.forEach((w, i) => {
      const k = key(w);
      if (k !== null) inForce.set(k, spelt[i]!);
    });
    return spelt.filter((_, i) => news[i] || (arc && !inPlane && /[XY]/.test(words[i]!.letter)));
  }

  function write(block: Block, move: number | null): string | null {
    const words = needed(block.words);
    if (block.words.length > 0 && words.length === 0) return null;
    const head = dialect.lineNumbers ? [`N${number}`] : [];
    let line = [...head, ...words].join(gapOf);
    if (line.length > dialect.blockLength) return line;
    if (block.comment !== undefined && dialect.comments) {
      const { open, close } = dialect.comments;
      const gap = line === '' ? '' : ' ';
      const room = dialect.blockLength - line.length - gap.length - open.length - close.length;
      const text = commentText(block.comment, dialect.comments).slice(0, Math.max(0, room)).trim();
      if (text !== '') line += gap + open + text + close;
      else if (words.length === 0) return null;
    } else if (words.length === 0) return null;
    if (dialect.lineNumbers) {
      number += dialect.lineNumbers.step;
      if (number > LAST_NUMBER) number = dialect.lineNumbers.start;
    }
    lines.push(line);
    lineMoves.push(move);
    return null;
  }

  return { lines, lineMoves, write, forget: () => inForce.clear() };
}
