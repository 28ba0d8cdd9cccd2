import type { Diagnostic } from '@haunch/model';
import { badNumber, missingValue } from '../diagnostics.js';
import type { GroupSource } from './group-source.js';
import { decodeEscapes } from './plain-text.js';

/** No coordinate of anything that is cut is larger than this many drawing units. */
export const LARGEST = 1e9;

/**
 * All groups of one record of a DXF (an entity, a table entry, a section's head), with typed access. A value
 * that cannot be read is reported with its line and read as 0, so that no reader meets a NaN.
 */
export class Tags {
  readonly codes: number[] = [];
  readonly #froms: number[] = [];
  readonly #tos: number[] = [];
  readonly #lines: number[] = [];

  constructor(
    /** The record's type: the value of its group 0. */
    readonly type: string,
    /** The line of its group 0. */
    readonly line: number,
    private readonly groups: GroupSource,
    private readonly file: string,
    private readonly report: (d: Diagnostic) => void,
  ) {}

  /** Takes over the group at which the walk stands. */
  take(): void {
    this.codes.push(this.groups.code);
    this.#froms.push(this.groups.from);
    this.#tos.push(this.groups.to);
    this.#lines.push(this.groups.line);
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
    return i < 0 ? '' : this.textAt(i);
  }

  /** The value of the i-th group as it stands. */
  textAt(i: number): string {
    return this.groups.text(this.codes[i]!, this.#froms[i]!, this.#tos[i]!);
  }

  /** The first value of a group as a finite number; reported when it is missing. */
  number(code: number): number {
    const i = this.codes.indexOf(code);
    if (i >= 0) return this.numberAt(i);
    this.missing(code);
    return 0;
  }

  /** Reports something about this record. */
  say(make: (at: { file: string; line: number; handle: string | null }) => Diagnostic): void {
    this.report(make({ file: this.file, line: this.line, handle: this.handle }));
  }

  /** Reports that a group is missing without which the record means nothing. */
  missing(code: number): void {
    this.say((at) => missingValue(at, this.type, code));
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
    const value = this.groups.number(this.codes[i]!, this.#froms[i]!, this.#tos[i]!);
    if (Math.abs(value) <= LARGEST) return value;
    this.report(
      badNumber(
        { file: this.file, line: this.#lines[i]!, handle: this.handle },
        this.type,
        this.codes[i]!,
        this.textAt(i),
      ),
    );
    return 0;
  }
}
