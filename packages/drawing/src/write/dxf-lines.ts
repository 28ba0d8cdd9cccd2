import { bulgeText, coordinateText } from './number-text.js';

/** Collects the groups of a DXF file: a line with the code and a line with the value. */
export class DxfLines {
  readonly #lines: string[] = [];
  #handle: number;

  constructor(firstHandle: number) {
    this.#handle = firstHandle;
  }

  /** Groups with texts or whole numbers, in pairs of code and value. */
  put(...groups: readonly (readonly [number, string | number])[]): this {
    for (const [code, value] of groups) this.#lines.push(String(code).padStart(3, ' '), String(value));
    return this;
  }

  /** A group with a length on the grid. */
  length(code: number, value: number): this {
    return this.put([code, coordinateText(value)]);
  }

  bulge(code: number, value: number): this {
    return this.put([code, bulgeText(value)]);
  }

  point(x: number, y: number, z?: number): this {
    this.length(10, x).length(20, y);
    return z === undefined ? this : this.length(30, z);
  }

  /** The next free handle. */
  handle(): string {
    return (this.#handle++).toString(16).toUpperCase();
  }

  append(other: DxfLines): this {
    for (const line of other.#lines) this.#lines.push(line);
    return this;
  }

  /** The file's text, with LF. */
  text(): string {
    return `${this.#lines.join('\n')}\n`;
  }
}
