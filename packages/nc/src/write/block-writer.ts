import type { Block, Dialect, Word } from '@haunch/model';
import { commentText } from './comment-text.js';
import { type NumberForm, textBuffer } from './text-buffer.js';

/** Words that the dialect has no room for: their text, and whether the block is too long or a number too great. */
export interface Unwritable {
  readonly text: string;
  readonly tooLong: 'block' | 'number';
}

/** Writes blocks as lines and remembers what is in force, so that repeated words are left out. */
export interface BlockWriter {
  readonly lineMoves: (number | null)[];
  /** Writes a block; returns what is wrong with its words when they cannot be written, else null. */
  write(block: Block, move: number | null): Unwritable | null;
  /** Writes a line of a percent sign, without a number. */
  percent(): void;
  /** Forgets what is in force: the next words are written in full. */
  forget(): void;
  /** All lines, each with its line end. */
  text(): string;
}

const A = 65;
const F = 70;
const G = 71;
const N = 78;
const X = 88;
const Y = 89;
const Z = 90;
const BLANK = 32;
const LINE_END = 10;

/** What a word that can be in force says: its number, in steps, and whether it is written as a whole number. */
interface InForce {
  known: boolean;
  steps: number;
  integer: boolean;
}

/** X, Y, Z, I, J, K and R. */
const isCoordinate = (letter: number): boolean =>
  (letter >= X && letter <= Z) || (letter >= 73 && letter <= 75) || letter === 82;

const isMotion = (value: number): boolean => value === 0 || value === 1 || value === 2 || value === 3;

/** The greatest line number of the language (NISTIR 6556, 3.3.1); counting starts again after it. */
const LAST_NUMBER = 99_999;

/** Words of a block that are usual at most. */
const WORDS = 16;
/** Characters after which finished lines leave the buffer. */
const PIECE = 1 << 13;

/** How integers are spelt whatever the dialect wants of other numbers. */
const PLAIN: NumberForm = { pointAlways: false, leadingZero: true };

/** A writer for one program. The post's name is for the errors of a post that writes no words. */
export function blockWriter(dialect: Dialect, post: string): BlockWriter {
  const out = textBuffer();
  /** Lines that have left the buffer. */
  const pieces: string[] = [];
  const lineMoves: (number | null)[] = [];
  const { modal, lineNumbers, blockLength, comments, decimals, feedDecimals } = dialect;
  const { blanks = true, point = 'where needed', leadingZero = true } = dialect.words ?? {};
  const { trailingZeros = false, implied } = dialect.words ?? {};
  const form: NumberForm = { pointAlways: point === 'always', leadingZero, trailingZeros };
  const coordinates: NumberForm = { ...form, implied };
  /** Coordinates of as many steps have more digits than the format. */
  const limit = implied ? 10 ** (implied.whole + decimals) : Infinity;
  const unknown = (): InForce => ({ known: false, steps: 0, integer: false });
  const force = { motion: unknown(), x: unknown(), y: unknown(), z: unknown(), feed: unknown() };
  let number = lineNumbers?.start ?? 0;

  const one = 10 ** decimals;
  const oneFeed = 10 ** feedDecimals;
  /** Of the block's words: letters by their codes, numbers in steps, and whether each must be written. */
  let letters = new Uint8Array(WORDS);
  let steps = new Float64Array(WORDS);
  let wanted = new Uint8Array(WORDS);

  const forceOf = (letter: number): InForce | null =>
    letter === X
      ? force.x
      : letter === Y
        ? force.y
        : letter === Z
          ? force.z
          : letter === F
            ? force.feed
            : letter === G
              ? force.motion
              : null;
  /** Whether a word would be spelt as the one in force. */
  const same = (f: InForce, letter: number, step: number, integer: boolean): boolean => {
    if (!f.known) return false;
    if (f.integer === integer) return f.steps === step;
    const whole = letter === F ? oneFeed : one;
    return !form.pointAlways && (integer ? step * whole === f.steps : f.steps * whole === step);
  };

  /** Marks the words of a block that must be written, and counts them; none when nothing of it would move or set anything. */
  function mark(words: readonly Word[]): number {
    const n = words.length;
    if (n > letters.length) {
      letters = new Uint8Array(n);
      steps = new Float64Array(n);
      wanted = new Uint8Array(n);
    }
    let plain = true;
    let motion = -1;
    let axes = false;
    let others = false;
    for (let i = 0; i < n; i++) {
      const w = words[i]!;
      const { value } = w;
      const letter = w.letter.length === 1 ? w.letter.charCodeAt(0) : 0;
      if (letter < A || letter > Z || !Number.isFinite(value))
        throw new TypeError(`${post}: wrote ${JSON.stringify(w.letter)} ${value}, which is no word`);
      letters[i] = letter;
      steps[i] = Math.round(w.integer ? value : value * (letter === F ? oneFeed : one)) + 0;
      wanted[i] = 1;
      if (letter === G) {
        if (!isMotion(value)) plain = false;
        else if (motion < 0) motion = value;
      } else if (letter >= X) axes = true;
      else if (letter !== F) others = true;
    }
    // Words beside another G code (an offset, a machine move) mean something else: they are no place to remember.
    if (!modal || !plain) {
      if (axes) force.x.known = force.y.known = force.z.known = false;
      if (modal && motion >= 0) force.motion.known = false;
      return n;
    }
    const arc = motion >= 2;
    let count = 0;
    let moves = false;
    let inPlane = false;
    for (let i = 0; i < n; i++) {
      const letter = letters[i]!;
      const f = forceOf(letter);
      if (f && same(f, letter, steps[i]!, words[i]!.integer === true)) wanted[i] = 0;
      else {
        count++;
        if (letter >= X) moves = true;
        if (letter === X || letter === Y) inPlane = true;
      }
    }
    if (!arc && axes && !moves && !others) return 0;
    for (let i = 0; i < n; i++) {
      const letter = letters[i]!;
      const f = forceOf(letter);
      if (f) {
        f.known = true;
        f.steps = steps[i]!;
        f.integer = words[i]!.integer === true;
      }
      // An arc needs a word in its plane even where it ends at the same x and y.
      if (arc && !inPlane && (letter === X || letter === Y) && !wanted[i]) {
        wanted[i] = 1;
        count++;
      }
    }
    return count;
  }

  function write(block: Block, move: number | null): Unwritable | null {
    const { words } = block;
    const count = mark(words);
    if (words.length > 0 && count === 0) return null;
    const begin = out.length();
    let tooGreat = false;
    if (lineNumbers) {
      out.code(N);
      out.steps(number, 0, PLAIN);
    }
    for (let i = 0; i < words.length; i++) {
      if (!wanted[i]) continue;
      if (blanks && out.length() > begin) out.code(BLANK);
      const letter = letters[i]!;
      out.code(letter);
      if (words[i]!.integer) out.steps(steps[i]!, 0, PLAIN);
      else if (letter === F) out.steps(steps[i]!, feedDecimals, form);
      else if (isCoordinate(letter)) {
        out.steps(steps[i]!, decimals, coordinates);
        if (steps[i]! >= limit || steps[i]! <= -limit) tooGreat = true;
      } else out.steps(steps[i]!, decimals, form);
    }
    const length = out.length() - begin;
    if (length > blockLength || tooGreat) {
      const text = out.from(begin);
      out.cut(begin);
      return { text, tooLong: tooGreat ? 'number' : 'block' };
    }
    let comment = '';
    if (block.comment !== undefined && comments) {
      const { open, close } = comments;
      const gap = length === 0 ? '' : ' ';
      const room = blockLength - length - gap.length - open.length - close.length;
      const text = commentText(block.comment, comments).slice(0, Math.max(0, room)).trim();
      if (text !== '') comment = gap + open + text + close;
    }
    if (comment === '' && count === 0) {
      out.cut(begin);
      return null;
    }
    out.text(comment);
    out.code(LINE_END);
    if (lineNumbers) {
      number += lineNumbers.step;
      if (number > LAST_NUMBER) number = lineNumbers.start;
    }
    lineMoves.push(move);
    if (out.length() > PIECE) {
      pieces.push(out.from(0));
      out.cut(0);
    }
    return null;
  }

  return {
    lineMoves,
    write,
    percent() {
      out.text('%\n');
      lineMoves.push(null);
    },
    forget() {
      for (const f of Object.values(force)) f.known = false;
    },
    text: () => pieces.join('') + out.from(0),
  };
}
