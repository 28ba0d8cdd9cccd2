import type { PdfDocument } from '../pdf/pdf-document.js';
import { type Lettering, type Pen, POINT_MM } from '../pdf/pen.js';
import { PAGE_SIZES, type PageName } from './page-size.js';
import { type TablePage, tablePages } from './table-pages.js';
import { shortened, wrapped } from './wrap-text.js';

/** Sizes of type, points: read at arm's length, so that none is below eight. */
export const TYPE = { title: 17, heading: 11.5, body: 9.5, small: 8 } as const;
const MARGIN = 12;
const HEAD = 15;
const FOOT = 9;
/** From base line to base line, as a share of the letters' size. */
const LEADING = 1.28;
/** Between the rows of a table, mm: as far apart as pages allow. */
const BETWEEN = [1.3, 0.95, 0.6] as const;

/** How pages of a sheet look. */
export interface SheetOptions {
  readonly page: PageName;
  readonly landscape?: boolean;
  /** Stands in large type at the head of the first page. */
  readonly title: string;
  /** What it is for, at the right of the head. */
  readonly kind: string;
}

/** A column of a table: its width is shared out by `share`. */
export interface Column {
  readonly head: string;
  readonly share: number;
  readonly align?: 'left' | 'right';
  readonly bold?: boolean;
}

/** A row of a table: a text a column, or one text over the whole row, which stands out. */
export type Row = readonly string[] | { readonly across: string };

/** Where words flow: from `y` down, between `left` and `right`. mm */
interface Region {
  left: number;
  right: number;
  y: number;
}

/** Pages of one kind in a document, filled from above: headings, paragraphs, lists to tick, tables. */
export class Sheet {
  readonly #doc: PdfDocument;
  readonly #options: SheetOptions;
  readonly #first: number;
  #pen: Pen;
  #region: Region;
  #fixed = false;

  constructor(doc: PdfDocument, options: SheetOptions) {
    this.#doc = doc;
    this.#options = options;
    this.#first = doc.pages.length;
    this.#pen = this.#page();
    this.#region = this.#whole(MARGIN + HEAD);
    this.#head();
  }

  get pen(): Pen {
    return this.#pen;
  }
  get left(): number {
    return this.#region.left;
  }
  get right(): number {
    return this.#region.right;
  }
  get width(): number {
    return this.#region.right - this.#region.left;
  }
  /** Where the next thing begins. */
  get y(): number {
    return this.#region.y;
  }
  set y(to: number) {
    this.#region.y = to;
  }
  /** Where words begin on every page but the first. */
  get top(): number {
    return MARGIN + 2;
  }
  /** The lowest place that may be used. */
  get bottom(): number {
    return this.#pen.height - MARGIN - FOOT;
  }

  #page(): Pen {
    const [w, h] = PAGE_SIZES[this.#options.page];
    return this.#options.landscape ? this.#doc.addPage(h, w) : this.#doc.addPage(w, h);
  }

  #whole(y: number): Region {
    return { left: MARGIN, right: this.#pen.width - MARGIN, y };
  }

  #head(): void {
    const { title, kind } = this.#options;
    const [left, right] = [MARGIN, this.#pen.width - MARGIN];
    const base = MARGIN + 6;
    const room = this.#pen.widthOf(kind, { size: TYPE.heading, bold: true }) + 6;
    this.#pen.text(
      { x: left, y: base },
      shortened(this.#pen, title, right - left - room, { size: TYPE.title, bold: true }),
      { size: TYPE.title, bold: true },
    );
    this.#pen.text({ x: right, y: base }, kind, { size: TYPE.heading, bold: true, align: 'right' });
    this.#pen.line({ x: left, y: base + 3 }, { x: right, y: base + 3 }, { width: 0.7 });
  }

  /** Begins a new page; its words begin at the top. */
  newPage(): void {
    this.#pen = this.#page();
    const { left, right } = this.#region;
    this.#region = this.#fixed ? { left, right, y: this.top } : this.#whole(this.top);
  }

  /** Sees that so many mm are left on the page, on a new one if need be. */
  need(height: number): void {
    if (!this.#fixed && this.#region.y + height > this.bottom) this.newPage();
  }

  /** Lets words flow in a column of the page; the region below it all is left as it was but for its `y`. */
  column(left: number, width: number, y: number, draw: () => void): number {
    const before = this.#region;
    this.#region = { left, right: left + width, y };
    this.#fixed = true;
    draw();
    this.#fixed = false;
    const end = this.#region.y;
    this.#region = { ...before, y: before.y };
    return end;
  }

  space(mm: number): void {
    this.#region.y += mm;
  }

  heading(text: string): void {
    const size = TYPE.heading;
    this.need(size * POINT_MM * 4);
    this.#region.y += size * POINT_MM * 1.15;
    this.#pen.text({ x: this.left, y: this.#region.y }, text, { size, bold: true });
    this.#region.y += 2.2;
  }

  #lines(lines: readonly string[], indent: number, style: Lettering): void {
    const step = style.size * POINT_MM * LEADING;
    for (const l of lines) {
      this.need(step);
      this.#region.y += step;
      this.#pen.text({ x: this.left + indent, y: this.#region.y - 0.25 * step }, l, style);
    }
  }

  /** A paragraph, wrapped. */
  paragraph(text: string, { size = TYPE.body, bold = false }: { size?: number; bold?: boolean } = {}): void {
    this.#lines(wrapped(this.#pen, text, this.width, { size, bold }), 0, { size, bold });
    this.#region.y += 0.9;
  }

  /** A list: a box to tick, a number or a dash before each text. */
  list(items: readonly string[], mark: 'box' | 'number' | 'dash' = 'box', size: number = TYPE.body): void {
    const indent = mark === 'dash' ? 3.2 : 5.2;
    items.forEach((text, i) => {
      const lines = wrapped(this.#pen, text, this.width - indent, { size });
      const step = size * POINT_MM * LEADING;
      this.need(Math.min(lines.length, 3) * step);
      const base = this.#region.y + 0.75 * step;
      if (mark === 'box') this.#pen.rect(this.left, base - 2.6, 2.8, 2.8, { stroke: 0, width: 0.3 });
      else
        this.#pen.text({ x: this.left, y: base }, mark === 'dash' ? '–' : `${i + 1}.`, {
          size,
          bold: mark === 'number',
        });
      this.#lines(lines, indent, { size });
      this.#region.y += 0.7;
    });
  }

  /** How high a heading and a list below it would be in a column, mm. */
  heightOf(items: readonly string[], width: number, size: number): number {
    const step = size * POINT_MM * LEADING;
    const lines = items.map((t) => wrapped(this.#pen, t, width - 5.2, { size }).length);
    return lines.reduce((sum, n) => sum + n * step + 0.7, TYPE.heading * POINT_MM * 1.15 + 2.2);
  }

  /**
   * A table; its head is written again on every page and over every block of columns. Rows stand closer where that saves a page, so that
   * none is left with a few of them.
   */
  table(
    columns: readonly Column[],
    rows: readonly Row[],
    { size = TYPE.body, blocks = 1 }: { size?: number; blocks?: number } = {},
  ): void {
    const gap = 7;
    const wide = (this.width - gap * (blocks - 1)) / blocks;
    const all = columns.reduce((sum, c) => sum + c.share, 0);
    const starts = columns.map((_, i) => (columns.slice(0, i).reduce((s, c) => s + c.share, 0) / all) * wide);
    const cellWidth = (i: number): number => (columns[i]!.share / all) * wide - 1.6;
    const { left: margin } = this;
    const set = (x0: number, y: number, i: number, text: string, bold: boolean): void => {
      const type = { size, bold };
      const right = columns[i]!.align === 'right';
      const x = x0 + starts[i]! + (right ? cellWidth(i) : 0);
      this.#pen.text({ x, y }, shortened(this.#pen, text, cellWidth(i), type), {
        ...type,
        align: right ? 'right' : 'left',
      });
    };
    /** A row's lines: texts of left columns are wrapped, figures are not. */
    const linesOf = (row: Row): string[][] =>
      'across' in row
        ? [wrapped(this.#pen, row.across, wide, { size, bold: true })]
        : columns.map((c, i) =>
            c.align === 'right'
              ? [row[i] ?? '']
              : wrapped(this.#pen, row[i] ?? '', cellWidth(i), { size, bold: c.bold ?? false }),
          );
    const line = size * POINT_MM * LEADING;
    const head = line + BETWEEN[0];
    const texts = rows.map(linesOf);
    const lines = texts.map((own) => Math.max(1, ...own.map((l) => l.length)));
    this.need(4 * head);
    const spread = (between: number): TablePage[] =>
      tablePages(
        lines.map((n) => n * line + between),
        { blocks, first: this.bottom - this.y - head, next: this.bottom - this.top - head },
      );
    const fewest = Math.min(...BETWEEN.map((b) => spread(b).length));
    const between = BETWEEN.find((b) => spread(b).length === fewest)!;
    spread(between).forEach((page, k) => {
      if (k > 0) this.newPage();
      const top = this.y;
      let lowest = top;
      page.forEach(([from, to], block) => {
        const x0 = margin + block * (wide + gap);
        let y = top + head - 1.6;
        columns.forEach((c, i) => {
          set(x0, y, i, c.head, true);
        });
        this.#pen.line({ x: x0, y: y + 1.3 }, { x: x0 + wide, y: y + 1.3 }, { width: 0.45 });
        y += 1.3;
        for (let at = from; at < to; at++) {
          const own = texts[at]!;
          const height = lines[at]! * line + between;
          if ('across' in rows[at]!) {
            this.#pen.rect(x0, y + 0.3, wide, height - 0.6, { fill: 0.9 });
            own[0]!.forEach((l, n) => {
              this.#pen.text({ x: x0 + 1, y: y + (n + 0.85) * line }, l, { size, bold: true });
            });
          } else
            own.forEach((cell, i) => {
              cell.forEach((l, n) => {
                set(x0, y + (n + 0.85) * line, i, l, columns[i]!.bold ?? false);
              });
            });
          y += height;
          this.#pen.line({ x: x0, y }, { x: x0 + wide, y }, { width: 0.12, stroke: 0.55 });
        }
        lowest = Math.max(lowest, y);
      });
      this.y = lowest + 2;
    });
  }

  /** Writes the foot of every page; nothing is drawn after it. */
  finish(words: string): void {
    const pages = this.#doc.pages.slice(this.#first);
    const { strange } = this.#doc;
    const note = strange.size === 0 ? '' : ' · [U+…]: a letter without type here, by its Unicode number';
    pages.forEach((pen, i) => {
      const y = pen.height - MARGIN;
      pen.line({ x: MARGIN, y: y - 4.2 }, { x: pen.width - MARGIN, y: y - 4.2 }, { width: 0.2 });
      const number = `page ${i + 1} of ${pages.length}`;
      const free = pen.width - 2 * MARGIN - pen.widthOf(number, { size: TYPE.small }) - 4;
      const after = pen.widthOf(note, { size: TYPE.small });
      const own = shortened(pen, words, free - after, { size: TYPE.small });
      pen.text({ x: MARGIN, y: y - 0.6 }, `${own}${note}`, { size: TYPE.small });
      pen.text({ x: pen.width - MARGIN, y: y - 0.6 }, number, { size: TYPE.small, align: 'right' });
    });
  }
}
