import { MOVE, type ShownProgram } from '../../work/shown-wire.js';

/** The kinds of motion, as figures have them. */
const TRAVEL = 0;
const ARC = 2;

/** A place of the cutter's tip, program coordinates, mm. */
export interface Tip {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** How a motion cuts: above the sheet, part of the way down, through. */
export type Depth = 'travel' | 'part way' | 'through';

/** A cut this near to the sheet's bottom is through, mm. */
const THROUGH = 0.05;

/** A program's motions by number, with times in hundredths of a second. Reads the figures; holds no state. */
export class Track {
  readonly #p: Pick<ShownProgram, 'start' | 'moves' | 'top' | 'bottom'>;
  /** How many motions there are. */
  readonly count: number;
  /** When the last is done. */
  readonly end: number;

  constructor(program: Pick<ShownProgram, 'start' | 'moves' | 'top' | 'bottom'>) {
    this.#p = program;
    this.count = program.moves.length / MOVE;
    this.end = this.count === 0 ? 0 : this.until(this.count - 1);
  }

  #figure(i: number, k: number): number {
    return this.#p.moves[i * MOVE + k]!;
  }

  /** When a motion is done. */
  until(i: number): number {
    return this.#figure(i, 4);
  }

  /** When a motion begins. */
  from(i: number): number {
    return i === 0 ? 0 : this.until(i - 1);
  }

  /** The line of a motion; 1 before the first and the last line that moves after the end. */
  line(i: number): number {
    return this.count === 0 ? 1 : this.#figure(Math.min(Math.max(i, 0), this.count - 1), 3);
  }

  /** Radius of the cutter in a motion. */
  radius(i: number): number {
    return this.#figure(i, 6);
  }

  /** Where a motion begins. */
  before(i: number): Tip {
    const [x, y, z] = this.#p.start;
    return i === 0
      ? { x, y, z }
      : { x: this.#figure(i - 1, 0), y: this.#figure(i - 1, 1), z: this.#figure(i - 1, 2) };
  }

  /** Where a motion ends. */
  after(i: number): Tip {
    return { x: this.#figure(i, 0), y: this.#figure(i, 1), z: this.#figure(i, 2) };
  }

  /** The centre and sweep of an arc; null for a straight motion. */
  arc(i: number): { readonly x: number; readonly y: number; readonly sweep: number } | null {
    return this.#figure(i, 5) === ARC
      ? { x: this.#figure(i, 7), y: this.#figure(i, 8), sweep: this.#figure(i, 9) }
      : null;
  }

  /** How a motion cuts. */
  depth(i: number): Depth {
    const { top, bottom } = this.#p;
    const [a, b] = [this.before(i).z, this.after(i).z];
    if (this.#figure(i, 5) === TRAVEL || Math.min(a, b) >= top) return 'travel';
    return Math.max(a, b) <= bottom + THROUGH ? 'through' : 'part way';
  }

  /** The motion at a time: the first that is not done yet; `count` at the end. */
  at(time: number): number {
    let [low, high] = [0, this.count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.until(middle) <= time) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Where the tip is at a time. */
  tip(time: number): Tip {
    const i = this.at(time);
    if (i >= this.count) return this.count === 0 ? this.before(0) : this.after(this.count - 1);
    return this.within(i, (time - this.from(i)) / Math.max(1e-9, this.until(i) - this.from(i)));
  }

  /** Where the tip is after a share of a motion. */
  within(i: number, share: number): Tip {
    const [a, b] = [this.before(i), this.after(i)];
    const s = Math.min(1, Math.max(0, share));
    const z = a.z + (b.z - a.z) * s;
    const arc = this.arc(i);
    if (!arc) return { x: a.x + (b.x - a.x) * s, y: a.y + (b.y - a.y) * s, z };
    const r = Math.hypot(a.x - arc.x, a.y - arc.y);
    const angle = Math.atan2(a.y - arc.y, a.x - arc.x) + arc.sweep * s;
    return { x: arc.x + r * Math.cos(angle), y: arc.y + r * Math.sin(angle), z };
  }

  /** The first motion of a line, or of the next one that moves; null after the last. */
  ofLine(line: number): number | null {
    // Programs are read from the first line to the last, so that lines only go up.
    let [low, high] = [0, this.count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.line(middle) < line) low = middle + 1;
      else high = middle;
    }
    return low < this.count ? low : null;
  }

  /** A moment well within a motion, at which that motion is the one that is shown. */
  moment(i: number): number {
    return Math.max(0, (this.from(i) + this.until(i)) / 2);
  }
}
