/** How a walk over the groups of a text DXF ended. */
export type CursorEnd = 'text ended' | 'cut in a group' | 'bad group code';

/**
 * A forward walk over the groups of a text DXF: each is a line with a group code and a line with its value
 * (DXF reference, "group codes in DXF files"). Nothing is split ahead, so a file costs its text and no more.
 * After `next()` answers true, `code`, `value` and `line` (of the code, from 1) describe the group; after
 * false, `end` says why. Lines may end in LF or CRLF. Never throws.
 */
export class GroupCursor {
  code = -1;
  value = '';
  line = 0;
  end: CursorEnd | null = null;
  /** What stood where a group code was expected, when `end` is `bad group code`. */
  badCode = '';
  readonly #text: string;
  #at = 0;
  #lineNow = 0;

  constructor(text: string) {
    this.#text = text.includes('\n') ? text : text.replaceAll('\r', '\n');
    this.#skipBlankStart();
  }

  /** Lines read so far. */
  get linesRead(): number {
    return this.#lineNow;
  }

  next(): boolean {
    if (this.end !== null) return false;
    const code = this.#takeLine();
    if (code === null || this.#onlyBlankLeft(code)) return this.#stop('text ended');
    this.line = this.#lineNow;
    const number = groupCode(code);
    if (number === null) {
      this.badCode = code.trim().slice(0, 40);
      return this.#stop('bad group code');
    }
    const value = this.#takeLine();
    if (value === null) return this.#stop('cut in a group');
    this.code = number;
    this.value = value;
    return true;
  }

  #stop(end: CursorEnd): false {
    this.end = end;
    return false;
  }

  #takeLine(): string | null {
    const text = this.#text;
    if (this.#at >= text.length) return null;
    let stop = text.indexOf('\n', this.#at);
    if (stop < 0) stop = text.length;
    const from = this.#at;
    this.#at = stop + 1;
    this.#lineNow++;
    return text.slice(from, stop > from && text.charCodeAt(stop - 1) === 13 ? stop - 1 : stop);
  }

  #onlyBlankLeft(line: string): boolean {
    return line.trim() === '' && this.#text.slice(this.#at).trim() === '';
  }

  #skipBlankStart(): void {
    const start = this.#text.search(/\S/);
    if (start <= 0) return;
    const line = this.#text.lastIndexOf('\n', start);
    if (line < 0) return;
    this.#lineNow = this.#text.slice(0, line + 1).split('\n').length - 1;
    this.#at = line + 1;
  }
}

/** A group code as an integer, or null where the line holds none. */
function groupCode(line: string): number | null {
  let i = 0;
  let stop = line.length;
  while (i < stop && line.charCodeAt(i) <= 32) i++;
  while (stop > i && line.charCodeAt(stop - 1) <= 32) stop--;
  const negative = line.charCodeAt(i) === 45;
  if (negative) i++;
  if (i >= stop || stop - i > 5) return null;
  let n = 0;
  for (; i < stop; i++) {
    const digit = line.charCodeAt(i) - 48;
    if (digit < 0 || digit > 9) return null;
    n = n * 10 + digit;
  }
  return negative ? -n : n;
}
