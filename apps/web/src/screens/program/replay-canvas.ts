import type { ShownProgram } from '../../work/shown-wire.js';
import { type Depth, type Tip, Track } from './track.js';

/** So long is drawn at a stretch, ms: the page must not be held up. */
const STRETCH = 6;
/** So many motions are drawn in one stroke at the most. */
const RUN = 48;
/** So many pictures on the way are kept, so that going back need not begin at the start. */
const KEPT = 8;
/** Room round the sheet, mm. */
const MARGIN = 25;
/** The cutter is drawn no smaller than this, px. */
const LEAST_CUTTER = 5;

/** Colours of a replay, by what they draw. */
export type ReplayColours = Readonly<Record<'sheet' | 'ink' | 'cut' | 'core' | 'travel' | 'cutter', string>>;

/**
 * Draws a sheet as it is cut up to a moment. What is cut already is kept as a picture and only added to; long ways are drawn stretch by
 * stretch, from one frame to the next, so that the page goes on answering.
 */
export class ReplayCanvas {
  readonly #canvas: HTMLCanvasElement;
  readonly #program: ShownProgram;
  readonly #track: Track;
  readonly #outlines: readonly Path2D[];
  #colours: ReplayColours;
  #scale = 1;
  #cut = document.createElement('canvas');
  #drawn = 0;
  #kept: { readonly at: number; readonly picture: HTMLCanvasElement }[] = [];
  #time = 0;
  #frame = 0;

  constructor(canvas: HTMLCanvasElement, program: ShownProgram, colours: ReplayColours) {
    this.#canvas = canvas;
    this.#program = program;
    this.#track = new Track(program);
    this.#colours = colours;
    this.#outlines = program.outlines.map((o) => new Path2D(o.path));
  }

  /** Height over width of the picture. */
  get shape(): number {
    const [x0, y0, x1, y1] = this.#program.sheet;
    return (y1 - y0 + 2 * MARGIN) / (x1 - x0 + 2 * MARGIN);
  }

  /** Draws everything anew in a width, in CSS px. */
  resize(width: number, colours: ReplayColours): void {
    const [x0, , x1] = this.#program.sheet;
    const dots = Math.min(2, devicePixelRatio || 1);
    this.#colours = colours;
    this.#scale = (width * dots) / (x1 - x0 + 2 * MARGIN);
    for (const c of [this.#canvas, this.#cut]) {
      c.width = Math.round(width * dots);
      c.height = Math.round(width * dots * this.shape);
    }
    this.#kept = [];
    this.#begin();
    this.#ask();
  }

  /** Shows a moment, hundredths of a second. */
  show(time: number): void {
    this.#time = time;
    this.#ask();
  }

  /** Draws no more. */
  stop(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
  }

  #ask(): void {
    if (this.#frame === 0)
      this.#frame = requestAnimationFrame(() => {
        this.#frame = 0;
        this.#go();
      });
  }

  #view(c: CanvasRenderingContext2D): void {
    const [x0, , , y1] = this.#program.sheet;
    const s = this.#scale;
    c.setTransform(s, 0, 0, -s, (MARGIN - x0) * s, (MARGIN + y1) * s);
    c.lineCap = 'round';
    c.lineJoin = 'round';
  }

  /** The bare sheet. */
  #begin(): void {
    const c = this.#cut.getContext('2d')!;
    const [x0, y0, x1, y1] = this.#program.sheet;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.clearRect(0, 0, this.#cut.width, this.#cut.height);
    this.#view(c);
    c.fillStyle = this.#colours.sheet;
    c.fillRect(x0, y0, x1 - x0, y1 - y0);
    this.#drawn = 0;
  }

  /** Goes back to the last picture that was kept before a motion, or to the bare sheet. */
  #back(to: number): void {
    const kept = this.#kept.filter((k) => k.at <= to).at(-1);
    if (!kept) {
      this.#begin();
      return;
    }
    const c = this.#cut.getContext('2d')!;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.clearRect(0, 0, this.#cut.width, this.#cut.height);
    c.drawImage(kept.picture, 0, 0);
    this.#drawn = kept.at;
  }

  #keep(): void {
    const step = Math.ceil(this.#track.count / KEPT);
    const last = this.#kept.at(-1)?.at ?? 0;
    if (this.#drawn < last + step) return;
    const picture = document.createElement('canvas');
    picture.width = this.#cut.width;
    picture.height = this.#cut.height;
    picture.getContext('2d')!.drawImage(this.#cut, 0, 0);
    this.#kept.push({ at: this.#drawn, picture });
  }

  #go(): void {
    const until = this.#track.at(this.#time);
    if (until < this.#drawn) this.#back(until);
    const c = this.#cut.getContext('2d')!;
    this.#view(c);
    const since = performance.now();
    while (this.#drawn < until && performance.now() - since < STRETCH) {
      const to = this.#runFrom(this.#drawn, until);
      this.#stroke(c, this.#drawn, to);
      this.#drawn = to;
      this.#keep();
    }
    this.#compose(until);
    if (this.#drawn < until) this.#ask();
  }

  /** The end of the run of motions alike from one on. */
  #runFrom(from: number, until: number): number {
    const t = this.#track;
    const [depth, radius] = [t.depth(from), t.radius(from)];
    let to = from + 1;
    while (to < until && to - from < RUN && t.depth(to) === depth && t.radius(to) === radius) to++;
    return to;
  }

  #trace(c: CanvasRenderingContext2D, i: number, share: number): Tip {
    const a = this.#track.before(i);
    const end = this.#track.within(i, share);
    const arc = this.#track.arc(i);
    if (arc) {
      const from = Math.atan2(a.y - arc.y, a.x - arc.x);
      c.arc(
        arc.x,
        arc.y,
        Math.hypot(a.x - arc.x, a.y - arc.y),
        from,
        from + arc.sweep * share,
        arc.sweep < 0,
      );
    }
    // A plunge leaves the mark of the cutter.
    else c.lineTo(end.x, end.y + (a.x === end.x && a.y === end.y ? 1e-3 : 0));
    return end;
  }

  #ink(c: CanvasRenderingContext2D, depth: Depth, radius: number): void {
    const px = 1 / this.#scale;
    if (depth === 'travel') {
      c.setLineDash([6 * px, 6 * px]);
      c.lineWidth = px;
      c.strokeStyle = this.#colours.travel;
      c.stroke();
      c.setLineDash([]);
      return;
    }
    const width = 2 * Math.max(radius, 0.5);
    c.lineWidth = width;
    c.strokeStyle = this.#colours.cut;
    c.stroke();
    if (depth === 'through') return;
    // Cut part of the way has a bright core, so that it is told apart without colour.
    c.lineWidth = Math.max(width - 3 * px, width / 3);
    c.strokeStyle = this.#colours.core;
    c.stroke();
  }

  #stroke(c: CanvasRenderingContext2D, from: number, to: number): void {
    const start = this.#track.before(from);
    c.beginPath();
    c.moveTo(start.x, start.y);
    for (let i = from; i < to; i++) this.#trace(c, i, 1);
    this.#ink(c, this.#track.depth(from), this.#track.radius(from));
  }

  /** What is cut, what is being cut, the parts' outlines over it, and the cutter. */
  #compose(until: number): void {
    const t = this.#track;
    const c = this.#canvas.getContext('2d')!;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.clearRect(0, 0, this.#canvas.width, this.#canvas.height);
    c.drawImage(this.#cut, 0, 0);
    this.#view(c);
    const px = 1 / this.#scale;
    if (until < t.count && this.#drawn === until) {
      const a = t.before(until);
      c.beginPath();
      c.moveTo(a.x, a.y);
      this.#trace(c, until, (this.#time - t.from(until)) / Math.max(1e-9, t.until(until) - t.from(until)));
      this.#ink(c, t.depth(until), t.radius(until));
    }
    c.lineWidth = 1.2 * px;
    c.strokeStyle = this.#colours.ink;
    for (const o of this.#outlines) c.stroke(o);
    c.font = `${Math.max(13 * px, 22)}px system-ui, sans-serif`;
    c.textAlign = 'center';
    c.textBaseline = 'middle';
    c.fillStyle = this.#colours.ink;
    for (const { name, at } of this.#program.outlines) {
      if (name === '') continue;
      c.save();
      c.translate(at[0], at[1]);
      c.scale(1, -1);
      c.fillText(name, 0, 0);
      c.restore();
    }
    const tip = t.tip(this.#time);
    const r = Math.max(t.count === 0 ? 3 : t.radius(Math.min(until, t.count - 1)), LEAST_CUTTER * px);
    c.beginPath();
    c.arc(tip.x, tip.y, r, 0, 7);
    c.moveTo(tip.x - 2.4 * r, tip.y);
    c.lineTo(tip.x + 2.4 * r, tip.y);
    c.moveTo(tip.x, tip.y - 2.4 * r);
    c.lineTo(tip.x, tip.y + 2.4 * r);
    c.lineWidth = 2.5 * px;
    c.strokeStyle = this.#colours.cutter;
    c.stroke();
  }
}
