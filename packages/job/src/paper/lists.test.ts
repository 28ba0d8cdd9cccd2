import { describe, expect, it } from 'vitest';
import { textOfPdf } from '../../test/paper/pdf-text.js';
import { manyParts, stored } from '../../test/paper/stored.js';
import { JobRatesSchema } from '../job-paper-schema.js';
import { csv } from './csv.js';
import { listsCsv, listsOf } from './lists.js';
import { listsPdfs } from './lists-sheet.js';
import type { PaperData } from './paper-data.js';
import { quoteOf } from './quote.js';

const RATES = JobRatesSchema.parse({
  currency: 'EUR',
  machineHour: 60,
  benchHour: 40,
  setUpMinutes: 15,
  partMinutes: 3,
  sandMinutes: 6,
  sheets: { board: 100 },
  offCutCredit: 0.5,
  leastOffCut: [500, 200],
  cutters: { 'router-6': { price: 50, metres: 1000 } },
  markUp: 0.1,
  tax: 0.2,
});

/** A job of one board of 2000 × 1000 mm with figures that can be reckoned by hand. */
function simple(rates: typeof RATES | undefined): PaperData {
  const data = stored();
  const [side] = data.sides;
  const [board] = data.report.boards;
  const { rates: _none, ...paper } = data.paper;
  return {
    ...data,
    paper: rates ? { ...paper, rates } : paper,
    sides: [
      {
        ...side!,
        board: 'board',
        width: 2000,
        height: 1000,
        offCuts: [{ id: 'board-rest', board: 'board', x: 1500, y: 0, width: 500, height: 1000 }],
        items: side!.items.slice(0, 2),
      },
    ],
    report: {
      ...data.report,
      parts: data.report.parts.filter((p) => side!.items.slice(0, 2).some((i) => i.part === p.id)),
      boards: [{ ...board!, id: 'board', seconds: 1800, runs: [{ cutter: 'router-6', metres: 200 }] }],
      forecast: { ...data.report.forecast, jointsTight: 2.5 },
    },
  };
}

describe('a quote', () => {
  it('is what the rates make of it, reckoned by hand', () => {
    const quote = quoteOf(simple(RATES));
    // Half an hour at 60; 15 + 2 × 3 + 2.5 × 6 minutes at 40 an hour; a sheet of 100, a quarter of it kept at half; 200 of 1000 m at 50.
    expect(quote.lines.map((l) => [l.kind, l.amount, l.price])).toEqual([
      ['machine', 30, 30],
      ['bench', 15, 10],
      ['bench', 6, 4],
      ['bench', 15, 10],
      ['sheet', 1, 100],
      ['off-cut', -0.25, -12.5],
      ['cutter', 200, 10],
    ]);
    expect([quote.costs, quote.markUp, quote.tax, quote.total]).toEqual([151.5, 15.15, 33.33, 199.98]);
  });

  it('takes a board as its share of a sheet of the size that is priced', () => {
    const rates = { ...RATES, sheets: { board: { price: 80, width: 2000, height: 2000 } } };
    expect(quoteOf(simple(rates)).lines.find((l) => l.kind === 'sheet')!.price).toBe(40);
    // One that is no rectangle by its area.
    const data = simple(rates);
    const edge = { points: [], area: 500_000, checkedAt: { x: 0, y: 0 } };
    const bent = { ...data, sides: data.sides.map((side) => ({ ...side, edge })) };
    expect(quoteOf(bent).lines.find((l) => l.kind === 'sheet')!.price).toBe(10);
  });

  it('credits no off-cut below the size from which one is kept', () => {
    const quote = quoteOf(simple({ ...RATES, leastOffCut: [1001, 200] }));
    expect(quote.lines.some((l) => l.kind === 'off-cut')).toBe(false);
  });

  it('keeps what is written for the next job, where no rates say that less is worth it', async () => {
    const data = simple(undefined);
    const small = { id: 'board-rest-2', board: 'board', x: 0, y: 800, width: 400, height: 150 };
    const sides = data.sides.map((s) => ({ ...s, offCuts: [...s.offCuts, small] }));
    const both = { ...data, sides };
    expect(listsOf(both).unload[0]!.offCuts.map((o) => o.id)).toEqual(['board-rest', 'board-rest-2']);
    const map = await textOfPdf((await listsPdfs(both)).get('unload.pdf')!);
    expect(map).toContain('Keep board-rest-2, in dashed lines, 400 × 150 mm');
    const priced = { ...both, paper: simple(RATES).paper };
    expect(listsOf(priced).unload[0]!.offCuts.map((o) => o.id)).toEqual(['board-rest']);
  });

  it('names what has no rate, and leaves it out of the sum', () => {
    const quote = quoteOf(simple({ ...RATES, sheets: {}, cutters: {} }));
    expect(quote.unpriced).toEqual([
      `board, ${simple(RATES).sides[0]!.material}, 2000 × 1000 mm`,
      'board-rest, kept: 500 × 1000 mm',
      'router-6',
    ]);
    expect(quote.costs).toBe(54);
  });

  it('states amounts alone for a job without rates, on paper too', async () => {
    const data = simple(undefined);
    const quote = quoteOf(data);
    expect(quote.total).toBeNull();
    expect(quote.lines.every((l) => l.price === null)).toBe(true);
    const text = await textOfPdf((await listsPdfs(data)).get('quote.pdf')!);
    expect(text).toContain('The job has no rates (paper.rates)');
    expect(text).not.toMatch(/price EUR|no rate |\d\.00/);
  });
});

describe('lists', () => {
  it('hold every part once, and its blank', () => {
    const data = stored();
    const lists = listsOf(data);
    const ids = data.report.parts.map((p) => p.id).sort();
    expect(lists.parts.map((p) => p.part).sort()).toEqual(ids);
    expect(lists.blanks.flatMap((b) => b.parts).sort()).toEqual(ids);
    expect(lists.unload.flatMap((u) => u.parts).sort()).toEqual(ids);
  });

  it('put blanks alike together', () => {
    const { blanks } = listsOf(manyParts(60));
    expect(blanks.reduce((sum, b) => sum + b.count, 0)).toBe(60);
    expect(blanks.length).toBeLessThan(10);
  });

  it('are the same on paper', async () => {
    const data = stored();
    const pdfs = await listsPdfs(data);
    const [parts, unload] = await Promise.all(
      ['parts.pdf', 'unload.pdf'].map((n) => textOfPdf(pdfs.get(n)!)),
    );
    for (const p of listsOf(data).parts) {
      expect(parts).toContain(`${p.part} ${p.name}`);
      expect(unload).toContain(p.part);
    }
    expect(parts).toContain('Cut list');
  });

  it('print a job that cuts nothing', async () => {
    const data = { ...stored(), sides: [], pieces: [] };
    const pdfs = await listsPdfs({ ...data, report: { ...data.report, parts: [], boards: [] } });
    expect([...pdfs.keys()]).toEqual(['parts.pdf', 'quote.pdf']);
    expect(await textOfPdf(pdfs.get('parts.pdf')!)).toContain('Parts list: 0 parts');
  });
});

describe('comma-separated values', () => {
  it('quote what RFC 4180 asks to be quoted, and let no spreadsheet take a name for a formula', () => {
    expect(
      csv(
        ['a', 'b'],
        [
          ['x, "y"', 1.5],
          ['=1+1', -2],
          ['-lath', 0],
        ],
      ),
    ).toBe('a,b\r\n"x, ""y""",1.5\r\n\'=1+1,-2\r\n\'-lath,0\r\n');
  });
  it('have as many cells in every row as in the head', () => {
    for (const text of listsCsv(listsOf(simple(RATES))).values()) {
      const [head, ...rows] = text.trim().split('\r\n');
      const cells = (line: string): number => line.replace(/"(?:[^"]|"")*"/g, 'q').split(',').length;
      for (const r of rows) expect(cells(r)).toBe(cells(head!));
    }
  });
});
