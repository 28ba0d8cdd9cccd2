import { readFileSync } from 'node:fs';
import { type DayBookEntry, dayBookAppendix, readDayBook } from '@haunch/gauge';
import { readJob } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import { enterInBook, lookInBook } from './book.js';

const text = readFileSync(
  new URL('../../../../docs/examples/reading-stand/job.json', import.meta.url),
  'utf8',
);
const document = { id: 'd1', text, sources: {} };
const book = (content: Blob) => ({ name: 'day-book.jsonl', content });
const when = '2026-03-02T08:00:00.000Z';
const written = (entries: readonly DayBookEntry[]): Blob =>
  new Blob([entries.reduce((all, e) => all + dayBookAppendix(e, all), '')]);
const linesOf = async (content: Blob): Promise<readonly DayBookEntry[]> => {
  const read = readDayBook(await content.text());
  if (!read.ok) throw new Error(read.diagnostics[0]?.message);
  return read.value.entries;
};
const done = <T>(reply: { readonly ok: true; readonly value: T } | { readonly ok: false }): T => {
  if (!reply.ok) throw new Error('refused');
  return reply.value;
};
const job = readJob(text, 'job.json');
if (!job.ok) throw new Error('the example cannot be read');
const [board] = job.value.settings.boards;
const router = job.value.router.id;

describe('the day book in the page', () => {
  it('takes the job’s sheets and its felt ladder once, and has nothing to add then', async () => {
    const before = done(await lookInBook(document, book(new Blob([]))));
    expect(before.newBoards).toEqual([board!.id]);
    expect(before.newLadders).toEqual([board!.id]);
    let content = new Blob([]);
    for (const event of [{ kind: 'boards' }, { kind: 'ladder', board: board!.id }] as const) {
      const entered = done(await enterInBook(document, book(content), event));
      expect(entered.added).toBeGreaterThan(0);
      content = entered.content;
    }
    const entries = await linesOf(content);
    expect(entries[0]).toMatchObject({ kind: 'board', board: board!.id, width: board!.width });
    expect(entries[1]).toMatchObject({ kind: 'ladder', board: board!.id, cutter: router });
    const after = done(await lookInBook(document, book(content)));
    expect([after.newBoards, after.newLadders]).toEqual([[], []]);
    expect(done(await enterInBook(document, book(content), { kind: 'boards' })).added).toBe(0);
    expect(after.boards).toMatchObject([{ id: board!.id, state: 'whole', forJob: null }]);
    expect(after.proposals.join()).toMatch(/snug .* from 1 ladder/);
    expect(JSON.parse(after.table!)).toMatchObject({ format: 'haunch-fits', rows: [{}] });
  });

  it('takes no board for a rectangle that is none', async () => {
    const { boards, ...rest } = JSON.parse(text);
    const [w, h] = [boards[0].width, boards[0].height];
    const outline = [
      ['0 mm', '0 mm'],
      [w, '0 mm'],
      [w, h],
      ['600 mm', h],
      ['600 mm', '700 mm'],
      ['0 mm', '700 mm'],
    ];
    const ell = {
      id: 'd2',
      text: JSON.stringify({ ...rest, boards: [{ ...boards[0], outline }] }),
      sources: {},
    };
    const empty = book(new Blob([]));
    expect(done(await lookInBook(ell, empty))).toMatchObject({ newBoards: [], noRectangles: [board!.id] });
    expect(done(await enterInBook(ell, empty, { kind: 'boards' })).added).toBe(0);
  });

  it('gives a board that the job has not as a job has it, and says which are cut from', async () => {
    const other: DayBookEntry = {
      v: 2,
      kind: 'board',
      when,
      board: 'rest-7',
      stock: 'birch 18',
      width: 800,
      height: 300,
      readings: [{ thickness: 17.6, at: { x: 50, y: 50 } }, { thickness: 17.7 }],
    };
    const gone: DayBookEntry = { v: 2, kind: 'gone', when, board: 'rest-7' };
    const [whole] = done(await lookInBook(document, book(written([other])))).boards;
    expect(whole).toMatchObject({ state: 'whole', readings: 2, forJob: { id: 'rest-7', width: '800 mm' } });
    const entered = done(
      await enterInBook(document, book(written([other])), { kind: 'gone', board: 'rest-7' }),
    );
    expect((await linesOf(entered.content)).at(-1)).toMatchObject({ ...gone, when: expect.any(String) });
    expect(done(await lookInBook(document, book(entered.content))).boards[0]).toMatchObject({
      state: 'gone',
    });
  });

  it('offers no board that the job has, though the job cannot be read', async () => {
    const read = JSON.parse(text);
    const spoiled = { id: 'd3', text: JSON.stringify({ ...read, cutters: [] }), sources: {} };
    const entered = done(await enterInBook(document, book(new Blob([])), { kind: 'boards' }));
    const seen = done(await lookInBook(spoiled, book(entered.content)));
    expect(seen.cutter).toBeNull();
    expect(seen.boards).toMatchObject([{ id: board!.id, forJob: null }]);
  });

  it('lets no cutter cut that was ground since its ladder', async () => {
    const ground = done(await enterInBook(document, book(new Blob([])), { kind: 'ground', why: 'ground' }));
    expect(await linesOf(ground.content)).toMatchObject([{ kind: 'ground', cutter: router, grinding: 1 }]);
    const { due, cutter } = done(await lookInBook(document, book(ground.content)));
    expect(due.map((d) => [d.level, d.code])).toEqual([['error', 'gauge/ladder-missing']]);
    expect(cutter).toContain('ground');
  });

  it('refuses a spoiled line by its number, and enters nothing of what was not made', async () => {
    const spoiled = book(new Blob(['{"v":2\n{"v":2}\n']));
    for (const reply of [
      await lookInBook(document, spoiled),
      await enterInBook(document, spoiled, { kind: 'boards' }),
    ]) {
      expect(reply.ok).toBe(false);
      expect(reply.diagnostics[0]).toMatchObject({ locus: { line: 1 }, level: 'error' });
    }
    expect(done(await enterInBook(document, book(new Blob([])), { kind: 'cut' })).added).toBe(0);
  });
});
