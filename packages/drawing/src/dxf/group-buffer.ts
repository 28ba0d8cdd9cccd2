/**
 * Where the groups of one top-level entity and of the records that belong to it stand in the file. One buffer serves
 * the whole walk: it is emptied for each entity, so that a file costs its bytes and what is made of them.
 */
export class GroupBuffer {
  codes = new Int32Array(1024);
  froms = new Int32Array(1024);
  tos = new Int32Array(1024);
  lines = new Int32Array(1024);
  length = 0;

  /** @param most so many groups are kept; what follows is dropped, and `full` says so. */
  constructor(private readonly most: number) {}

  /** Whether groups were dropped since the buffer was emptied. */
  full = false;

  empty(): void {
    this.length = 0;
    this.full = false;
  }

  add(code: number, from: number, to: number, line: number): void {
    const i = this.length;
    if (i === this.codes.length && !this.#grow()) return;
    this.codes[i] = code;
    this.froms[i] = from;
    this.tos[i] = to;
    this.lines[i] = line;
    this.length = i + 1;
  }

  #grow(): boolean {
    if (this.length >= this.most) {
      this.full = true;
      return false;
    }
    const grown = (old: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> => {
      const out = new Int32Array(Math.min(this.most, 2 * old.length));
      out.set(old);
      return out;
    };
    this.codes = grown(this.codes);
    this.froms = grown(this.froms);
    this.tos = grown(this.tos);
    this.lines = grown(this.lines);
    return true;
  }
}
