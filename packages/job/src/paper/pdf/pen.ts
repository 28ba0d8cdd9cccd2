import type { Point } from '@haunch/geometry';
import type { OutlineFont } from './outline-font.js';
import { type SetText, textRuns } from './text-runs.js';

/** How a shape is drawn: greys from 0, black, to 1, white; widths and dashes in mm. */
export interface Stroke {
  readonly stroke?: number;
  readonly width?: number;
  readonly dash?: readonly number[];
  readonly fill?: number;
  readonly round?: boolean;
}

/** How a text is set: size in points (1/72 inch), `at` is its left end, middle or right end on the base line. */
export interface Lettering {
  readonly size: number;
  readonly bold?: boolean;
  readonly align?: 'left' | 'middle' | 'right';
  readonly grey?: number;
  /** Turned counter-clockwise about its place, radians. */
  readonly turn?: number;
}

/** A point of type in mm. */
export const POINT_MM = 25.4 / 72;
const POINTS = 72 / 25.4;
const HAIR = 0.25;

const n = (v: number): string => {
  const r = Math.round(v * 100) / 100 + 0;
  return String(r === 0 ? 0 : r);
};

/** Told of what a page sets beyond the standard fonts. */
interface Listener {
  readonly strange: (letter: string) => void;
  readonly glyph: (glyph: number, letter: string) => void;
}

/** Draws on one page: mm from its upper left corner, X to the right and Y down. Black on white. */
export class Pen {
  readonly #out: string[] = [];
  /** The size of the page, mm. */
  readonly width: number;
  readonly height: number;
  readonly #outline: OutlineFont | undefined;
  readonly #listener: Listener;

  constructor(width: number, height: number, outline: OutlineFont | undefined, listener: Listener) {
    this.width = width;
    this.height = height;
    this.#outline = outline;
    this.#listener = listener;
  }

  #place(p: Point): string {
    return `${n(p.x * POINTS)} ${n((this.height - p.y) * POINTS)}`;
  }

  #begin({ stroke, width = HAIR, dash, fill, round = false }: Stroke): void {
    const set = ['q'];
    if (stroke !== undefined)
      set.push(
        `${n(stroke)} G ${n(width * POINTS)} w${round ? ' 1 J 1 j' : ''}${dash ? ` [${dash.map((d) => n(d * POINTS)).join(' ')}] 0 d` : ''}`,
      );
    if (fill !== undefined) set.push(`${n(fill)} g`);
    this.#out.push(set.join(' '));
  }

  #paint({ stroke, fill }: Stroke): void {
    this.#out.push(
      `${fill === undefined ? (stroke === undefined ? 'n' : 'S') : stroke === undefined ? 'f*' : 'B*'} Q`,
    );
  }

  #path(points: readonly Point[], close: boolean): void {
    points.forEach((p, i) => {
      this.#out.push(`${this.#place(p)} ${i === 0 ? 'm' : 'l'}`);
    });
    if (close) this.#out.push('h');
  }

  line(from: Point, to: Point, style: Stroke = {}): void {
    this.lines([[from, to]], style);
  }

  /** Several open lines in one style. */
  lines(lines: readonly (readonly Point[])[], style: Stroke = {}): void {
    if (lines.length === 0) return;
    const drawn = { stroke: 0, ...style };
    this.#begin(drawn);
    for (const l of lines) this.#path(l, false);
    this.#paint(drawn);
  }

  /** Closed loops in one style; where they overlap evenly there is no fill. */
  loops(loops: readonly (readonly Point[])[], style: Stroke): void {
    if (loops.length === 0) return;
    this.#begin(style);
    for (const l of loops) this.#path(l, true);
    this.#paint(style);
  }

  rect(x: number, y: number, width: number, height: number, style: Stroke = { stroke: 0 }): void {
    this.#begin(style);
    this.#out.push(`${this.#place({ x, y: y + height })} ${n(width * POINTS)} ${n(height * POINTS)} re`);
    this.#paint(style);
  }

  /** Many rectangles in one style: x, y, width, height. */
  rects(list: readonly (readonly [number, number, number, number])[], style: Stroke): void {
    if (list.length === 0) return;
    this.#begin(style);
    for (const [x, y, w, h] of list)
      this.#out.push(`${this.#place({ x, y: y + h })} ${n(w * POINTS)} ${n(h * POINTS)} re`);
    this.#paint(style);
  }

  circle(at: Point, radius: number, style: Stroke = { stroke: 0 }): void {
    // Four cubics follow a circle within 0.03 % of its radius.
    const k = 0.5523 * radius;
    const p = (x: number, y: number): string => this.#place({ x: at.x + x, y: at.y + y });
    this.#begin(style);
    this.#out.push(
      `${p(radius, 0)} m`,
      `${p(radius, k)} ${p(k, radius)} ${p(0, radius)} c`,
      `${p(-k, radius)} ${p(-radius, k)} ${p(-radius, 0)} c`,
      `${p(-radius, -k)} ${p(-k, -radius)} ${p(0, -radius)} c`,
      `${p(k, -radius)} ${p(radius, -k)} ${p(radius, 0)} c h`,
    );
    this.#paint(style);
  }

  /** Keeps what `draw` draws within a rectangle. */
  within(x: number, y: number, width: number, height: number, draw: () => void): void {
    this.#out.push(
      `q ${this.#place({ x, y: y + height })} ${n(width * POINTS)} ${n(height * POINTS)} re W n`,
    );
    draw();
    this.#out.push('Q');
  }

  #runs(text: string, bold: boolean): SetText {
    return textRuns(text, bold, this.#outline);
  }

  /** How wide a text is, mm. */
  widthOf(text: string, { size, bold = false }: Pick<Lettering, 'size' | 'bold'>): number {
    return (this.#runs(text, bold).width / 1000) * size * POINT_MM;
  }

  /** Sets a text; a letter that no font has stands as its code point in brackets. */
  text(at: Point, text: string, style: Lettering): void {
    const { size, bold = false, align = 'left', grey = 0, turn = 0 } = style;
    const { runs, width, strange } = this.#runs(text, bold);
    for (const letter of strange) this.#listener.strange(letter);
    if (runs.length === 0) return;
    const back = (align === 'left' ? 0 : align === 'middle' ? 0.5 : 1) * (width / 1000) * size * POINT_MM;
    const start = { x: at.x - back * Math.cos(turn), y: at.y + back * Math.sin(turn) };
    const [c, s] = [Math.cos(turn), Math.sin(turn)].map((v) => n(Math.round(v * 1e4) / 1e4));
    const shown = runs.map((r) => {
      if (r.font === 'outline')
        for (const [i, glyph] of r.codes.entries()) this.#listener.glyph(glyph, r.letters[i]!);
      const font = r.font === 'outline' ? 'O' : bold ? 'B' : 'R';
      const digits = r.font === 'outline' ? 4 : 2;
      return `/${font} ${n(size)} Tf <${r.codes.map((v) => v.toString(16).toUpperCase().padStart(digits, '0')).join('')}> Tj`;
    });
    this.#out.push(
      `BT ${n(grey)} g ${c} ${s} ${n(-Number(s))} ${c} ${this.#place(start)} Tm ${shown.join(' ')} ET`,
    );
  }

  /** The page's content stream. */
  content(): string {
    return this.#out.join('\n');
  }
}
