import type { CursorEnd, GroupSource } from './group-source.js';
import { parseNumber } from './parse-number.js';
import type { TextDecoding } from './text-decoding.js';

const LF = 10;
const CR = 13;
const SPACE = 32;

/**
 * The groups of a text DXF: each is a line with a group code and a line with its value. Lines may end in LF, CRLF
 * or CR. Nothing is split ahead or copied, so that a file costs its bytes and no more.
 */
export class GroupCursor implements GroupSource {
  code = -1;
  line = 0;
  from = 0;
  to = 0;
  end: CursorEnd | null = null;
  badCode = '';
  #at = 0;
  #lineNow = 0;
  readonly #lineEnd: number;

  constructor(
    readonly bytes: Uint8Array,
    private readonly decoding: TextDecoding,
  ) {
    this.#lineEnd = bytes.includes(LF) ? LF : CR;
    this.#skipBlankStart();
  }

  get linesRead(): number {
    return this.#lineNow;
  }

  next(): boolean {
    if (this.end !== null) return false;
    if (this.#takePlainGroup()) return true;
    if (!this.#takeLine()) return this.#stop('text ended');
    const code = groupCode(this.bytes, this.from, this.to);
    if (code === null) {
      if (this.#onlyBlankLeft()) return this.#stop('text ended');
      this.line = this.#lineNow;
      this.badCode = this.text(0, this.from, Math.min(this.to, this.from + 40)).trim();
      return this.#stop('bad group code');
    }
    this.line = this.#lineNow;
    if (!this.#takeLine()) return this.#stop('cut in a group');
    this.code = code;
    return true;
  }

  text(_code: number, from: number, to: number): string {
    return this.decoding.decode(this.bytes, from, to);
  }

  number(_code: number, from: number, to: number): number {
    return parseNumber(this.bytes, from, to);
  }

  #stop(end: CursorEnd): false {
    this.end = end;
    return false;
  }

  /** The usual case at one go: a code of digits, LF or CRLF, a value and its line end. Else nothing is taken. */
  #takePlainGroup(): boolean {
    const { bytes } = this;
    const { length } = bytes;
    if (this.#lineEnd !== LF) return false;
    let i = this.#at;
    while (i < length && bytes[i] === SPACE) i++;
    const first = i;
    let code = 0;
    for (; i < length; i++) {
      const digit = bytes[i]! - 48;
      if (digit < 0 || digit > 9) break;
      code = code * 10 + digit;
    }
    if (i === first || i - first > 5) return false;
    if (bytes[i] === CR) i++;
    if (bytes[i] !== LF) return false;
    const from = i + 1;
    i = from;
    while (i < length && bytes[i] !== LF) i++;
    if (i >= length) return false;
    this.code = code;
    this.line = this.#lineNow + 1;
    this.#lineNow += 2;
    this.from = from;
    this.to = i > from && bytes[i - 1] === CR ? i - 1 : i;
    this.#at = i + 1;
    return true;
  }

  #takeLine(): boolean {
    const { bytes } = this;
    const start = this.#at;
    if (start >= bytes.length) return false;
    const lineEnd = this.#lineEnd;
    let stop = start;
    // Lines are short: a loop is faster than a call that searches.
    while (stop < bytes.length && bytes[stop] !== lineEnd) stop++;
    this.#at = stop + 1;
    this.#lineNow++;
    this.from = start;
    this.to = stop > start && bytes[stop - 1] === CR ? stop - 1 : stop;
    return true;
  }

  #onlyBlankLeft(): boolean {
    for (let i = this.from; i < this.bytes.length; i++) if (this.bytes[i]! > 32) return false;
    return true;
  }

  #skipBlankStart(): void {
    let first = 0;
    while (first < this.bytes.length && this.bytes[first]! <= 32) first++;
    for (let i = 0; i < first; i++)
      if (this.bytes[i] === this.#lineEnd) {
        this.#lineNow++;
        this.#at = i + 1;
      }
  }
}

/** A group code as an integer, or null where the line holds none. */
function groupCode(bytes: Uint8Array, from: number, to: number): number | null {
  let i = from;
  let stop = to;
  while (i < stop && bytes[i]! <= 32) i++;
  while (stop > i && bytes[stop - 1]! <= 32) stop--;
  const negative = bytes[i] === 45;
  if (negative) i++;
  if (i >= stop || stop - i > 5) return null;
  let n = 0;
  for (; i < stop; i++) {
    const digit = bytes[i]! - 48;
    if (digit < 0 || digit > 9) return null;
    n = n * 10 + digit;
  }
  return negative ? -n : n;
}
