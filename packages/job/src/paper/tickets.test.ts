import jsQR from 'jsqr';
import { describe, expect, it } from 'vitest';
import { readPdf, textOfPdf } from '../../test/paper/pdf-text.js';
import { manyParts, stored } from '../../test/paper/stored.js';
import { JobPaperSchema } from '../job-paper-schema.js';
import { labelCode } from './label-code.js';
import { LEAST_LABEL, labelSize } from './label-grid.js';
import type { PaperData } from './paper-data.js';
import { ticketTexts } from './ticket-text.js';
import { ticketsPdf } from './tickets.js';

const POINTS = 72 / 25.4;

/** The black rectangles of the first page's content, in points from its lower left corner. */
function rectangles(bytes: Uint8Array): number[][] {
  const text = new TextDecoder('latin1').decode(bytes);
  const height = Number(/\/MediaBox \[0 0 [\d.]+ ([\d.]+)\]/.exec(text)![1]);
  const found: number[][] = [];
  // The page is turned over once, at its beginning, so that Y runs down.
  for (const block of text.matchAll(/((?:[-\d. ]+ re\n)+)\/DeviceRGB cs\n0 0 0 scn\nf\*/g))
    for (const r of block[1]!.trim().split('\n')) {
      const [x, y, w, h] = r.split(' ').map(Number) as [number, number, number, number];
      found.push([x, height - y - h, w, h]);
    }
  return found;
}

/** Reads the code in a part of a page, drawn at eight dots a millimetre, 200 to the inch, with a reader that shares nothing with the writer. */
function decode(rects: readonly number[][], [x0, y0, w, h]: readonly number[]): string | null {
  const dots = 8 / POINTS;
  const [width, height] = [Math.round(w! * dots), Math.round(h! * dots)];
  const image = new Uint8ClampedArray(4 * width * height).fill(255);
  for (const [x, y, rw, rh] of rects) {
    if (x! < x0! || y! < y0! || x! + rw! > x0! + w! || y! + rh! > y0! + h!) continue;
    for (let r = Math.round((y! - y0!) * dots); r < Math.round((y! + rh! - y0!) * dots); r++)
      for (let c = Math.round((x! - x0!) * dots); c < Math.round((x! + rw! - x0!) * dots); c++) {
        const at = 4 * ((height - 1 - r) * width + c);
        image[at] = image[at + 1] = image[at + 2] = 0;
      }
  }
  const found = jsQR(image, width, height);
  return found && new TextDecoder().decode(new Uint8Array(found.binaryData));
}

const renamed = (data: PaperData, from: string, to: string, name: string): PaperData =>
  JSON.parse(JSON.stringify(data).replaceAll(JSON.stringify(from), JSON.stringify(to)), (key, value) =>
    key === 'parts' && Array.isArray(value) ? value.map((p) => (p.id === to ? { ...p, name } : p)) : value,
  ) as PaperData;

describe('a ticket', () => {
  it('carries a code that another reader reads from the page: part, name, job, board, face, mates', async () => {
    const data = stored();
    const { labels, page } = data.paper;
    const [w, h] = labelSize(page, labels);
    const rects = rectangles(await ticketsPdf(data));
    const texts = ticketTexts(data);
    expect(texts.length).toBe(data.report.parts.length);
    texts.forEach((t, i) => {
      const [column, row] = [i % labels.columns, Math.floor(i / labels.columns)];
      const corner = [column * w, 297 - (row + 1) * h, w, h].map((v) => v * POINTS);
      const read = decode(rects, corner);
      expect(read).toBe(t.code);
      expect(read!.split('\n')[0]).toBe(t.item);
      expect(read).toContain(`board ${t.board}`);
      expect(read).toMatch(/was up/);
      if (t.mates.length > 0) expect(read).toContain(`joins ${t.mates.join(', ')}`);
    });
  });

  it('says the same in words', async () => {
    const data = stored();
    const text = await textOfPdf(ticketsPdf(data));
    for (const t of ticketTexts(data)) {
      expect(text).toContain(t.item);
      expect(text).toContain(`board ${t.board}`);
    }
  });

  it('takes names that are too long for a label and odd letters: cut off with an ellipsis in words, whole or marked in the code', async () => {
    const long = 'a-very-long-name-that-no-label-has-room-for/2';
    const id = stored().report.parts[0]!.id;
    const data = renamed(stored(), id, long, 'Полка <"&> 棚🪑');
    const ticket = ticketTexts(data).find((t) => t.item === long)!;
    expect(ticket.code).toContain(long);
    expect(ticket.code).toContain('Полка <"&> 棚🪑');
    expect(new TextEncoder().encode(ticket.code).length).toBeLessThanOrEqual(170);
    const text = await textOfPdf(ticketsPdf(data));
    expect(text).toMatch(/a-very-lo[\w-]*…/);
    expect(text).toMatch(/\[U\+041F\]/);
    const rects = rectangles(await ticketsPdf(data));
    const i = ticketTexts(data).findIndex((t) => t.item === long);
    const [w, h] = labelSize('A4', data.paper.labels);
    expect(
      decode(
        rects,
        [(i % 3) * w, 297 - (Math.floor(i / 3) + 1) * h, w, h].map((v) => v * POINTS),
      ),
    ).toBe(ticket.code);
  });

  it('keeps a code short enough for its label, whatever it is given', () => {
    const data = renamed(stored(), stored().report.parts[0]!.id, '棚'.repeat(200), '長'.repeat(500));
    for (const t of ticketTexts(data)) {
      expect(new TextEncoder().encode(t.code).length).toBeLessThanOrEqual(170);
      // 170 bytes at level M or better are at most version 9, 53 modules.
      expect(labelCode(t.code).length).toBeLessThanOrEqual(53);
    }
  });

  it('stands alone on its label, twenty-four a page for sixty parts', async () => {
    const pages = await readPdf(ticketsPdf(manyParts(60)));
    expect(pages).toHaveLength(3);
    expect(pages[2]!.text).toMatch(/P60 shelf 60/);
  });

  it('is not there where nothing is cut, and a page says so', async () => {
    const data = { ...stored(), sides: [] };
    expect(await textOfPdf(ticketsPdf(data))).toMatch(/no tickets/);
  });
});

describe('a sheet of labels', () => {
  it('is refused where its labels would be too small for a name and a code', () => {
    const read = JobPaperSchema.safeParse({ labels: { columns: 6, rows: 8 } });
    expect(read.success).toBe(false);
    expect(read.error!.issues[0]!.message).toMatch(
      /labels 6 × 8 on A4 would be 35 × 37.1 mm; .* need 40 × 21 mm/,
    );
    expect(JobPaperSchema.safeParse({ labels: { columns: 2, rows: 7, margin: ['120 mm', 0] } }).success).toBe(
      false,
    );
  });

  it('divides A4 (ISO 216) as its columns and rows say', () => {
    expect(labelSize('A4', JobPaperSchema.parse({}).labels)).toEqual([70, 37.125]);
    expect(LEAST_LABEL[0]).toBeLessThan(70);
  });
});
