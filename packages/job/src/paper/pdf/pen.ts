import type { Point } from '@haunch/geometry';
import type { KitDocument } from './kit.js';
import type { OutlineFont } from './outline-font.js';
import type { TextRun } from './text-run.js';
import { textRuns } from './text-runs.js';

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
/** Points of type in a mm. */
export const POINTS = 72 / 25.4;
const HAIR = 0.25;

const grey = (v: number): string => {
  const two = Math.round(255 * v)
    .toString(16)
    .padStart(2, '0');
  return `#${two}${two}${two}`;
};
const FULL_TURN = 360;

/** Draws on one page: mm from its upper left corner, X to the right and Y down. Black on white. */
export class Pen {
  /** The size of the page, mm. */
  readonly width: number;
  readonly height: number;
  readonly #kit: KitDocument;
  readonly #page: number;
  readonly #outline: OutlineFont | undefined;
  readonly #strange: Set<string>;

  constructor(
    kit: KitDocument,
    page: number,
    { width, height }: { readonly width: number; readonly height: number },
    outline: OutlineFont | undefined,
    strange: Set<string>,
  ) {
    this.#kit = kit;
    this.#page = page;
    this.width = width;
    this.height = height;
    this.#outline = outline;
    this.#strange = strange;
  }

  /** Draws on this page, whichever was drawn on last, in a state of its own. */
  #draw(draw: (kit: KitDocument) => void): void {
    this.#kit.switchToPage(this.#page);
    this.#kit.save();
    draw(this.#kit);
    this.#kit.restore();
  }

  #shape(
    { stroke, width = HAIR, dash, fill, round = false }: Stroke,
    path: (kit: KitDocument) => void,
  ): void {
    if (stroke === undefined && fill === undefined) return;
    this.#draw((kit) => {
      if (stroke !== undefined) {
        kit.lineWidth(width * POINTS);
        if (round) kit.lineCap('round').lineJoin('round');
        // Given as a list, a dash keeps its own gaps; types know the form with one number only.
        if (dash) kit.dash(dash.map((d) => d * POINTS) as unknown as number, {});
      }
      path(kit);
      if (fill === undefined) kit.stroke(grey(stroke!));
      else if (stroke === undefined) kit.fill(grey(fill), 'even-odd');
      else kit.fillAndStroke(grey(fill), grey(stroke), 'even-odd');
    });
  }

  line(from: Point, to: Point, style: Stroke = {}): void {
    this.lines([[from, to]], style);
  }

  /** Several open lines in one style. */
  lines(lines: readonly (readonly Point[])[], style: Stroke = {}): void {
    if (lines.length === 0) return;
    this.#shape({ stroke: 0, ...style }, (kit) => {
      for (const l of lines) follow(kit, l);
    });
  }

  /** Closed loops in one style; where they overlap evenly there is no fill. */
  loops(loops: readonly (readonly Point[])[], style: Stroke): void {
    if (loops.length === 0) return;
    this.#shape(style, (kit) => {
      for (const l of loops) follow(kit, l).closePath();
    });
  }

  rect(x: number, y: number, width: number, height: number, style: Stroke = { stroke: 0 }): void {
    this.rects([[x, y, width, height]], style);
  }

  /** Many rectangles in one style: x, y, width, height. */
  rects(list: readonly (readonly [number, number, number, number])[], style: Stroke): void {
    if (list.length === 0) return;
    this.#shape(style, (kit) => {
      for (const [x, y, w, h] of list) kit.rect(x * POINTS, y * POINTS, w * POINTS, h * POINTS);
    });
  }

  circle(at: Point, radius: number, style: Stroke = { stroke: 0 }): void {
    this.#shape(style, (kit) => void kit.circle(at.x * POINTS, at.y * POINTS, radius * POINTS));
  }

  /** Keeps what `draw` draws within a rectangle. */
  within(x: number, y: number, width: number, height: number, draw: () => void): void {
    this.#draw((kit) => {
      kit.rect(x * POINTS, y * POINTS, width * POINTS, height * POINTS).clip();
      draw();
    });
  }

  /** Takes the font of a run and gives the document, ready to measure or set it. */
  #set({ font }: TextRun, size: number, bold: boolean): KitDocument {
    const standard = bold ? 'Helvetica-Bold' : 'Helvetica';
    return this.#kit.font(font === 'outline' ? 'outline' : standard, size);
  }

  #widthOf(run: TextRun, size: number, bold: boolean): number {
    return this.#set(run, size, bold).widthOfString(run.text);
  }

  /** How wide a text is, mm. */
  widthOf(text: string, { size, bold = false }: Pick<Lettering, 'size' | 'bold'>): number {
    const { runs } = textRuns(text, this.#outline);
    return runs.reduce((sum, r) => sum + this.#widthOf(r, size, bold), 0) * POINT_MM;
  }

  /** Sets a text; a letter that no font has stands as its code point in brackets. */
  text(at: Point, text: string, style: Lettering): void {
    const { size, bold = false, align = 'left', grey: tone = 0, turn = 0 } = style;
    const { runs, strange } = textRuns(text, this.#outline);
    for (const letter of strange) this.#strange.add(letter);
    if (runs.length === 0) return;
    const widths = runs.map((r) => this.#widthOf(r, size, bold));
    const back = align === 'left' ? 0 : align === 'middle' ? 0.5 : 1;
    this.#draw((kit) => {
      kit.translate(at.x * POINTS, at.y * POINTS);
      // Turned counter-clockwise, where the page's own turns are clockwise.
      if (turn !== 0) kit.rotate((-turn / (2 * Math.PI)) * FULL_TURN);
      kit.fillColor(grey(tone));
      let x = -back * widths.reduce((sum, w) => sum + w, 0);
      for (const [i, run] of runs.entries()) {
        this.#set(run, size, bold).text(run.text, x, 0, { lineBreak: false, baseline: 'alphabetic' });
        x += widths[i]!;
      }
    });
  }
}

/** Leads the document's path along points. */
function follow(kit: KitDocument, points: readonly Point[]): KitDocument {
  for (const [i, { x, y }] of points.entries())
    if (i === 0) kit.moveTo(x * POINTS, y * POINTS);
    else kit.lineTo(x * POINTS, y * POINTS);
  return kit;
}
