import type { Diagnostic } from '@haunch/model';
import { badNumber, missingValue } from '../diagnostics.js';
import type { GroupBuffer } from './group-buffer.js';
import type { GroupSource } from './group-source.js';
import { decodeEscapes } from './plain-text.js';
import type { WordCache } from './word-cache.js';

/** What all records of one file share. */
export interface Walk {
  readonly groups: GroupSource;
  readonly buffer: GroupBuffer;
  readonly words: WordCache;
  readonly file: string;
  readonly report: (d: Diagnostic) => void;
}

/** No coordinate of anything that is cut is larger than this many drawing units. */
export const LARGEST = 1e9;

/**
 * All groups of one record of a DXF (an entity, a table entry, a section's head), with typed access. A value
 * that cannot be read is reported with its line and read as 0, so that no reader meets a NaN. Valid until the walk
 * goes on to the next top-level entity.
 */
export class Tags {
  readonly #start: number;
  #end: number;

  constructor(
    /** The record's type: the value of its group 0. */
    readonly type: string,
    /** The line of its group 0. */
    readonly line: number,
    private readonly walk: Walk,
  ) {
    this.#start = walk.buffer.length;
    this.#end = this.#start;
  }

  /** Takes over the group at which the walk stands. */
  take(): void {
    const { buffer, groups } = this.walk;
    buffer.add(groups.code, groups.from, groups.to, groups.line);
    this.#end = buffer.length;
  }

  /** How many groups it has. */
  get count(): number {
    return this.#end - this.#start;
  }

  codeAt(i: number): number {
    return this.walk.buffer.codes[this.#start + i]!;
  }

  /** The first group with a code; −1 where there is none. */
  indexOf(code: number): number {
    const { codes } = this.walk.buffer;
    for (let i = this.#start; i < this.#end; i++) if (codes[i] === code) return i - this.#start;
    return -1;
  }

  /** The handle (group 5), or null. */
  get handle(): string | null {
    const h = this.text(5).trim();
    return h === '' ? null : h;
  }

  get layer(): string {
    const i = this.indexOf(8);
    if (i < 0) return '0';
    const { buffer, groups, words } = this.walk;
    const k = this.#start + i;
    const name = words.word(groups.bytes, buffer.froms[k]!, buffer.tos[k]!, () =>
      decodeEscapes(this.textAt(i)).trim(),
    );
    return name === '' ? '0' : name;
  }

  has(code: number): boolean {
    return this.indexOf(code) >= 0;
  }

  /** The first value of a group as it stands; empty where there is none. */
  text(code: number): string {
    const i = this.indexOf(code);
    return i < 0 ? '' : this.textAt(i);
  }

  /** The value of the i-th group as it stands. */
  textAt(i: number): string {
    const { buffer, groups } = this.walk;
    const k = this.#start + i;
    return groups.text(buffer.codes[k]!, buffer.froms[k]!, buffer.tos[k]!);
  }

  /** The first value of a group as a finite number; reported when it is missing. */
  number(code: number): number {
    const i = this.indexOf(code);
    if (i >= 0) return this.numberAt(i);
    this.missing(code);
    return 0;
  }

  /** Reports something about this record. */
  say(make: (at: { file: string; line: number; handle: string | null }) => Diagnostic): void {
    this.walk.report(make({ file: this.walk.file, line: this.line, handle: this.handle }));
  }

  /** Reports that a group is missing without which the record means nothing. */
  missing(code: number): void {
    this.say((at) => missingValue(at, this.type, code));
  }

  /** The same, with a value for a missing group. */
  numberOr(code: number, otherwise: number): number {
    const i = this.indexOf(code);
    return i < 0 ? otherwise : this.numberAt(i);
  }

  /** A group's value as a whole number, such as flags. */
  integerOr(code: number, otherwise: number): number {
    return Math.trunc(this.numberOr(code, otherwise));
  }

  /** The value of the i-th group as a finite number. */
  numberAt(i: number): number {
    const { buffer, groups, file } = this.walk;
    const k = this.#start + i;
    const value = groups.number(buffer.codes[k]!, buffer.froms[k]!, buffer.tos[k]!);
    if (Math.abs(value) <= LARGEST) return value;
    const at = { file, line: buffer.lines[k]!, handle: this.handle };
    this.walk.report(badNumber(at, this.type, buffer.codes[k]!, this.textAt(i)));
    return 0;
  }
}
