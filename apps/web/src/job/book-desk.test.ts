import { describe, expect, it } from 'vitest';
import type { Service } from '../work/service.js';
import { BookDesk } from './book-desk.js';
import type { JobDocument } from './job-document.js';
import { type ShopBook, type State, Store } from './store.js';

const lines = (n: number): Blob => new Blob(Array.from({ length: n }, (_, i) => `${i}\n`));
const count = async (b: Blob): Promise<number> => (await b.text()).split('\n').length - 1;

/** A desk whose worker adds a line for every entry, slowly; `full`: the browser keeps nothing. */
function begun(full = false) {
  const store = new Store({ book: null, notices: [] } as unknown as State);
  const kept: (ShopBook | null)[] = [];
  const downloaded: Blob[] = [];
  const service = {
    lookInBook: async (_: unknown, { name }: ShopBook) =>
      name === 'spoiled.jsonl'
        ? {
            ok: false,
            diagnostics: [{ level: 'error', message: 'no entry', hint: 'h', locus: { file: name, line: 3 } }],
          }
        : { ok: true, value: { due: [] } },
    enterInBook: async (_: unknown, { content }: ShopBook) => {
      const before = await count(content);
      await new Promise((r) => setTimeout(r, 2));
      return {
        ok: true,
        value: { content: lines(before + 1), added: 1, leftOut: before > 2 ? ['S1-rest-1'] : [] },
      };
    },
  } as unknown as Service;
  const desk = new BookDesk(store, {
    ask: (question) => question(service, {} as JobDocument),
    keep: async (book) => {
      if (full) throw new DOMException('no room', 'QuotaExceededError');
      kept.push(book);
    },
    download: (content) => void downloaded.push(content),
  });
  const notice = (id: string) => store.state.notices.find((n) => n.id === id);
  return { store, desk, kept, downloaded, notice };
}
const book = (name = 'day-book.jsonl') => ({ name, content: lines(2) });
const ENTRY = { kind: 'boards' } as const;

describe('the day book of the page', () => {
  it('has both of two entries in quick succession', async () => {
    const { store, desk, notice } = begun();
    await desk.open(book());
    await Promise.all([desk.enter(ENTRY), desk.enter(ENTRY)]);
    expect(store.state.book!.added).toBe(2);
    expect(await count(store.state.book!.content)).toBe(4);
    expect(notice('book')!.text).toContain('not entered in the day book: S1-rest-1');
  });

  it('can still be had after it was put away, or another opened, with lines that were not downloaded', async () => {
    const { store, desk, kept, downloaded, notice } = begun();
    await desk.open(book());
    await desk.enter(ENTRY);
    await desk.open(book('another.jsonl'));
    expect(store.state.book!.name).toBe('another.jsonl');
    expect(notice('book-gone')!.text).toContain('day-book.jsonl was put away with a line');
    notice('book-gone')!.action!.do();
    expect(await count(downloaded[0]!)).toBe(3);
    expect(notice('book-gone')).toBeUndefined();
    await desk.enter(ENTRY);
    await desk.putAway();
    expect(store.state.book).toBeNull();
    expect(kept.at(-1)).toBeNull();
    expect(notice('book-gone')!.text).toContain('another.jsonl');
  });

  it('goes without a word when all of it was downloaded', async () => {
    const { desk, notice } = begun();
    await desk.open(book());
    await desk.enter(ENTRY);
    await desk.download();
    await desk.putAway();
    expect(notice('book-gone')).toBeUndefined();
  });

  it('stays when what is opened instead cannot be read', async () => {
    const { store, desk, notice } = begun();
    await desk.open(book());
    await desk.enter(ENTRY);
    await desk.open(book('spoiled.jsonl'));
    expect(store.state.book).toMatchObject({ name: 'day-book.jsonl', added: 1 });
    expect(notice('book')!.text).toBe('spoiled.jsonl, line 3: no entry');
    expect(notice('book-gone')).toBeUndefined();
  });

  it('is said not to be kept where the browser is full, and can be downloaded', async () => {
    const { desk, downloaded, notice } = begun(true);
    await desk.open(book());
    await desk.enter(ENTRY);
    await new Promise((r) => setTimeout(r));
    expect(notice('book-kept')!.level).toBe('warning');
    notice('book-kept')!.action!.do();
    await desk.putAway();
    expect(await count(downloaded[0]!)).toBe(3);
  });
});
