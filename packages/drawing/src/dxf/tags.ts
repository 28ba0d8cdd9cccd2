import type { Diagnostic } from '@haunch/model';
import { badNumber, missingValue } from '../diagnostics.js';
import { decodeEscapes } from './plain-text.js';

/** No coordinate of anything that is cut is larger than this many drawing units. */
const LARGEST = 1e9;
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/**
 * All groups of one record of a DXF (an entity, a table entry, a section's head), with typed access. A value
 * that cannot be read is reported with its line and read as 0, so that no reader meets a NaN.
 */
export class Tags {
  readonly codes: number[] = [];
  readonly values: string[] = [];
  readonly lines: number[] = [];

  constructor(
    /** The record's type: the value of its group 0. */
    readonly type: string,
    /** The line of its group 0. */
    readonly line: number,
    private readonly file: string,
    private readonly report: (d: Diagnostic) => void,
  ) {}

  push(code: number, value: string, line: number): void {
    this.codes.push(code);
    this.values.push(value);
    this.lines.push(line);
  }

  /** The handle (group 5), or null. */
  get handle(): string | null {
    const h = this.text(5).trim();
    return h === '' ? null : h;
  }

  get layer(): string {
    const name = decodeEscapes(this.text(8)).trim();
    return name === '' ? '0' : name;
  }

  has(code: number): boolean {
    return this.codes.includes(code);
  }

  /** The first value of a group as it stands; empty where there is none. */
  text(code: number): string {
    const i = this.codes.indexOf(code);
    return i < 0 ? '' : this.values[i]!;
  }

  /** The first value of a group as a finite number; reported when it is missing. */
  number(code: number): number {
    const i = this.codes.indexOf(code);
    if (i >= 0) return this.numberAt(i);
    this.missing(code);
    return 0;
  }

  /** Reports that a group is missing without which the record means nothing. */
  missing(code: number): void {
    this.report(missingValue({ file: this.file, line: this.line, handle: this.handle }, this.type, code));
  }

  /** The same, with a value for a missing group. */
  numberOr(code: number, otherwise: number): number {
    const i = this.codes.indexOf(code);
    return i < 0 ? otherwise : this.numberAt(i);
  }

  /** A group's value as a whole number, such as flags. */
  integerOr(code: number, otherwise: number): number {
    return Math.trunc(this.numberOr(code, otherwise));
  }

  /** The value of the i-th group as a finite number. */
  numberAt(i: number): number {
    const text = this.values[i]!.trim();
    const value = NUMBER.test(text) ? Number(text) : Number.NaN;
    if (Math.abs(value) <= LARGEST) return value;
    this.report(
      badNumber(
        { file: this.file, line: this.lines[i]!, handle: this.handle },
        this.type,
        this.codes[i]!,
        this.values[i]!,
      ),
    );
    return 0;
  }
}
