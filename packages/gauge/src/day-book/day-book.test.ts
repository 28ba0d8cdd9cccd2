import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutterHistoryOf } from './cutter-history-of.js';
import type { DayBookEntry } from './day-book-entry.js';
import { proposeDefaults } from './propose-defaults.js';
import { dayBookAppendix, readDayBook } from './read-day-book.js';

const when = '2026-11-25T10:00:00Z';
const cutterEntry = (metres: number, diameter: number, grinding = 0): DayBookEntry => ({
  v: 2,
  kind: 'cutter',
  when,
  cutter: 'comp-6',
  grinding,
  metres,
  diameter,
  u: 0.006,
});
const ladderEntry = (snug: number): DayBookEntry => ({
  v: 2,
  kind: 'ladder',
  when,
  board: 'sheet-1',
  stock: 'birch 18',
  cutter: 'comp-6',
  grinding: 0,
  answers: [{ rung: 'x3', felt: 'hand' }],
  drive: snug - 0.05,
  snug,
  slip: snug + 0.1,
  u: 0.0144,
});
const feltEntry = (foretold: number, felt: 'tight' | 'right' | 'loose', make = 'first'): DayBookEntry => ({
  v: 2,
  kind: 'felt',
  when,
  job: 'sideboard',
  make,
  joint: 'M-S1-D1',
  stock: 'birch 18',
  foretold,
  felt,
});

const bookOf = (entries: readonly DayBookEntry[]): string =>
  entries.reduce((book, e) => book + dayBookAppendix(e, book), '');

describe('readDayBook', () => {
  const entries = [cutterEntry(0, 6), ladderEntry(0.1), feltEntry(0.1, 'right')];

  it('reads what was appended', () => {
    const book = readDayBook(bookOf(entries));
    expect(book.ok && book.value.entries).toEqual(entries);
    expect(book.diagnostics).toEqual([]);
  });

  it('survives being torn off anywhere in its last line, and being written on after that', () => {
    const whole = bookOf(entries);
    const lastLine = whole.lastIndexOf('\n', whole.length - 2) + 1;
    fc.assert(
      fc.property(fc.integer({ min: lastLine + 1, max: whole.length - 2 }), (cut) => {
        const torn = readDayBook(whole.slice(0, cut));
        if (!torn.ok) throw new Error(torn.diagnostics[0]?.message);
        expect(torn.value.entries).toEqual(entries.slice(0, 2));
        expect(torn.value.torn).toBe(whole.slice(lastLine, cut));
        expect(torn.diagnostics.map((d) => d.code)).toEqual(['gauge/day-book-torn']);
      }),
    );
    const cut = whole.slice(0, whole.length - 5);
    const on = readDayBook(cut + dayBookAppendix(cutterEntry(10, 6), cut));
    if (!on.ok) throw new Error(on.diagnostics[0]?.message);
    expect(on.value.entries.map((e) => e.kind)).toEqual(['cutter', 'ladder', 'torn', 'cutter']);
    // A line that only lacks its end is whole.
    const unended = whole.slice(0, -1);
    const ended = readDayBook(unended + dayBookAppendix(cutterEntry(10, 6), unended));
    expect(ended.ok && ended.value.entries).toHaveLength(4);
  });

  it('refuses a spoiled line in the middle by its number, and a later version by its figure', () => {
    const lines = bookOf(entries).split('\n');
    const spoiled = readDayBook([lines[0], '{"v":2,', ...lines.slice(1)].join('\n'));
    expect(spoiled.diagnostics.map((d) => [d.code, d.locus.line])).toEqual([['gauge/day-book-line', 2]]);
    // Another file altogether is not taken for a book whose only line was torn off.
    expect(readDayBook('\u0089PNG').diagnostics.map((d) => d.locus.line)).toEqual([1]);
    const later = readDayBook(`{"v":3,"kind":"moon"}\n`);
    expect(later.diagnostics[0]?.code).toBe('gauge/day-book-newer');
    expect(later.diagnostics[0]?.message).toContain('versions 1 to 2 are known here');
    const wrong = readDayBook(`${JSON.stringify({ ...cutterEntry(0, 6), diameter: -6 })}\n`);
    expect(wrong.diagnostics[0]?.locus.path).toBe('diameter');
  });

  it('refuses to append what it could not read', () => {
    expect(() => dayBookAppendix({ ...cutterEntry(0, 6), when: 'noon' }, '')).toThrow(RangeError);
  });
});

describe('cutterHistoryOf', () => {
  it('adds the metres run since the last sighting', () => {
    const cut = (program: string, times = 1): DayBookEntry => ({
      v: 2,
      kind: 'cut',
      when,
      job: 'j',
      board: 'b',
      program: program.repeat(64),
      times,
      runs: [{ cutter: 'comp-6', metres: 30 }],
    });
    const history = cutterHistoryOf(
      [cutterEntry(0, 6), cut('a'), cutterEntry(28, 5.99), cut('b'), cut('c')],
      'comp-6',
    );
    expect(history.metres).toBe(88);
    expect(history.sightings).toHaveLength(2);
  });
});

describe('proposeDefaults', () => {
  const snug = (entries: readonly DayBookEntry[]) =>
    proposeDefaults(entries).find((p) => p.family === 'snug')!;

  it('never jumps on one ladder, and comes to believe many', () => {
    const one = snug([ladderEntry(0.2)]);
    const ten = snug(Array.from({ length: 10 }, () => ladderEntry(0.2)));
    expect(one.proposed).toBeGreaterThan(0.1);
    expect(one.proposed).toBeLessThan(0.18);
    expect(ten.proposed).toBeGreaterThan(0.19);
    expect(ten.u).toBeLessThan(one.u);
  });

  it('speaks for the material where one was said, so that a table made of it is found by the next job', () => {
    const sheets = (['sheet-1', 'off-cut-1'] as const).map(
      (stock): DayBookEntry => ({ ...ladderEntry(0.2), stock, material: 'birch 18' }) as DayBookEntry,
    );
    const proposals = proposeDefaults(sheets);
    expect([...new Set(proposals.map((p) => p.material))]).toEqual(['birch 18']);
    expect(proposals.map((p) => p.ladders)).toEqual([2, 2, 2]);
    expect(proposeDefaults([ladderEntry(0.2)])[0]!.material).toBe('birch 18');
  });

  it('moves up where joints felt tight and down where they felt loose', () => {
    expect(snug([feltEntry(0.1, 'tight')]).proposed).toBeGreaterThan(0.1);
    expect(snug([feltEntry(0.1, 'loose')]).proposed).toBeLessThan(0.1);
    expect(snug([feltEntry(0.1, 'right')]).proposed).toBeCloseTo(0.1, 9);
  });

  it('proposes nothing where nothing was felt', () => {
    expect(proposeDefaults([cutterEntry(0, 6)])).toEqual([]);
  });
});
