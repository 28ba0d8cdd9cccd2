import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardsOfBook } from './boards-of-book.js';
import { cutterHistoryOf } from './cutter-history-of.js';
import type { DayBookEntry } from './day-book-entry.js';
import { formatDayBook, newEntries, readExchange } from './exchange-day-book.js';
import { instantOf } from './instant.js';
import { readDayBook } from './read-day-book.js';

const at = (minute: number): string => `2026-11-25T10:${String(minute).padStart(2, '0')}:00Z`;
const sheet = (minute: number): DayBookEntry => ({
  v: 2,
  kind: 'board',
  when: at(minute),
  board: 'S1',
  stock: 'birch 18',
  width: 2440,
  height: 1220,
  readings: [{ thickness: 17.7, at: { x: 50, y: 50 } }],
});
const offCut = (minute: number, board: string, parent: string, x: number, turn = 0): DayBookEntry => ({
  v: 2,
  kind: 'off-cut',
  when: at(minute),
  board,
  parent,
  width: 400,
  height: 300,
  motion: { turnedOver: false, turn, x, y: 100 },
});
const cut = (minute: number, times = 1, program = 'a'.repeat(64)): DayBookEntry => ({
  v: 2,
  kind: 'cut',
  when: at(minute),
  job: 'j',
  board: 'S1',
  program,
  times,
  runs: [{ cutter: 'router-6', metres: 30 }],
});

describe('boardsOfBook', () => {
  it('knows what was cut from, what is gone, and what was entered anew', () => {
    const state = (...entries: DayBookEntry[]) => boardsOfBook(entries).get('S1')?.state;
    const gone: DayBookEntry = { v: 2, kind: 'gone', when: at(5), board: 'S1' };
    expect(state(sheet(0))).toBe('whole');
    expect(state(sheet(0), cut(1))).toBe('cut');
    expect(state(sheet(0), cut(1), gone)).toBe('gone');
    expect(state(sheet(0), gone, cut(9))).toBe('gone');
    // Measured again it is no less cut; another sheet under its name says so.
    expect(state(sheet(0), cut(1), sheet(2))).toBe('cut');
    expect(state(sheet(0), cut(1), gone, sheet(6))).toBe('gone');
    expect(state(sheet(0), cut(1), gone, { ...sheet(6), anew: true } as DayBookEntry)).toBe('whole');
    const again = { ...sheet(7), readings: [{ thickness: 17.5 }] } as DayBookEntry;
    expect(boardsOfBook([sheet(0), cut(1), again]).get('S1')).toMatchObject({
      state: 'cut',
      readings: [{ thickness: 17.5 }],
    });
  });

  it('gives an off-cut of an off-cut its sheet, readings, place and grain', () => {
    const boards = boardsOfBook([
      sheet(0),
      offCut(1, 'O1', 'S1', 1000, Math.PI / 2),
      offCut(2, 'O2', 'O1', 50),
    ]);
    const inner = boards.get('O2')!;
    expect(inner).toMatchObject({ stock: 'birch 18', grain: 'y', offCut: { sheet: 'S1', parent: 'O1' } });
    expect(inner.readings).toEqual([{ thickness: 17.7, at: { x: 50, y: 50 } }]);
    // (50, 100) of an off-cut turned a quarter at (1000, 100): to the left by 100, up by 50.
    expect(inner.offCut!.motion.x).toBeCloseTo(900, 9);
    expect(inner.offCut!.motion.y).toBeCloseTo(150, 9);
    expect(boardsOfBook([offCut(1, 'O1', 'unknown', 0)]).size).toBe(0);
  });
});

describe('the flaws of a board', () => {
  const knot = { box: [1010, 110, 1040, 130], face: 'up' } as const;
  const flawed = (minute: number, more: object = { defects: [knot] }) =>
    ({ ...sheet(minute), ...more }) as DayBookEntry;
  const of = (board: string, ...entries: DayBookEntry[]) => boardsOfBook(entries).get(board)!.defects;

  it('stay when it is measured again, and go with another board, or when they are said to be gone', () => {
    expect(of('S1', sheet(0))).toEqual([]);
    expect(of('S1', flawed(0), sheet(1))).toEqual([knot]);
    expect(of('S1', flawed(0), flawed(1, { defects: [] }))).toEqual([]);
    expect(of('S1', flawed(0), flawed(1, { anew: true }))).toEqual([]);
  });

  it('are an off-cut’s where they lie in it, its own way round, on the other face where it was turned over', () => {
    expect(of('O1', flawed(0), offCut(1, 'O1', 'S1', 1000))).toEqual([{ box: [10, 10, 40, 30], face: 'up' }]);
    expect(of('O1', flawed(0), offCut(1, 'O1', 'S1', 1030))).toEqual([{ box: [0, 10, 10, 30], face: 'up' }]);
    expect(of('O1', flawed(0), offCut(1, 'O1', 'S1', 1500))).toEqual([]);
    expect(of('O2', flawed(0), offCut(1, 'O1', 'S1', 990), offCut(2, 'O2', 'O1', 5))).toEqual([]);
    const turned = (more: object) =>
      of('O1', flawed(0), {
        ...offCut(1, 'O1', 'S1', 0),
        motion: { turnedOver: false, turn: 0, x: 1300, y: 100, ...more },
      } as DayBookEntry)[0]!;
    const close = (box: readonly number[], to: readonly number[]) =>
      expect(box.map((v) => +v.toFixed(9))).toEqual(to);
    // Turned a quarter about (1300, 100): its X runs up the sheet, its Y to the left.
    close(turned({ turn: Math.PI / 2 }).box, [10, 260, 30, 290]);
    // Turned over: its X runs to the left, and what was above is below.
    const over = turned({ turnedOver: true });
    close(over.box, [260, 10, 290, 30]);
    expect(over.face).toBe('down');
  });
});

describe('a cutter’s metres', () => {
  const metres = (...entries: DayBookEntry[]) => cutterHistoryOf(entries, 'router-6').metres;

  it('count a program once however often it is entered, and again only where it was cut again', () => {
    expect(metres(cut(0), cut(1), cut(2))).toBe(30);
    expect(metres(cut(0), cut(1, 3), cut(2, 3))).toBe(90);
    expect(metres(cut(0), cut(1, 1, 'b'.repeat(64)))).toBe(60);
  });

  it('begin anew with grinding, and leave no ladder that speaks for the edge', () => {
    const ground: DayBookEntry = {
      v: 2,
      kind: 'ground',
      when: at(5),
      cutter: 'router-6',
      grinding: 1,
      why: 'swapped',
    };
    expect(cutterHistoryOf([cut(0), ground], 'router-6')).toMatchObject({ grinding: 1, metres: 0 });
    expect(metres(cut(0), ground, cut(9, 1, 'b'.repeat(64)))).toBe(30);
    // Books of two machines joined: what happened counts in its order, not in that of the lines.
    expect(metres(ground, cut(0))).toBe(0);
  });
});

describe('books of version 1', () => {
  it('migrate as they are read, and what is wrong in them is named by its field', () => {
    const old = { v: 1, kind: 'cut', when: at(0), job: 'j', board: 'S1', cutter: 'router-6', metres: 12 };
    const book = readDayBook(`${JSON.stringify(old)}\n`);
    expect(book.ok && book.value.entries[0]).toMatchObject({
      v: 2,
      program: null,
      times: 1,
      runs: [{ cutter: 'router-6', metres: 12 }],
    });
    const wrong = readDayBook(`${JSON.stringify({ ...old, metres: -1 })}\n`);
    expect(wrong.diagnostics.map((d) => [d.code, d.locus.path])).toEqual([['gauge/day-book-line', 'metres']]);
  });
});

describe('export and import', () => {
  const entries = [sheet(0), offCut(1, 'O1', 'S1', 1000), cut(2)];

  it('give the same book back, and nothing that is known already', () => {
    const read = readExchange(formatDayBook(entries), 'all.json');
    if (!read.ok) throw new Error(read.diagnostics[0]?.message);
    expect(read.value.entries).toEqual(entries);
    expect(newEntries([], read.value.entries)).toEqual(entries);
    expect(newEntries(entries, read.value.entries)).toEqual([]);
  });

  it('refuse another document, a later version, and a spoiled entry by its place', () => {
    const codes = (text: string) =>
      readExchange(text, 'x.json').diagnostics.map((d) => [d.code, d.locus.path]);
    expect(codes('{"format":"haunch-job"}')).toEqual([['gauge/day-book-line', 'format']]);
    expect(codes('{"format":"haunch-day-book","version":9,"entries":[]}')).toEqual([
      ['gauge/day-book-newer', 'version'],
    ]);
    const spoiled = formatDayBook([{ ...cut(0), times: 0 } as DayBookEntry]);
    expect(codes(spoiled)).toEqual([['gauge/day-book-line', 'entries[0].times']]);
  });
});

it('takes a date and time for the seconds that the platform takes it for', () => {
  fc.assert(
    fc.property(
      fc.date({ min: new Date('1900-01-01'), max: new Date('2200-01-01'), noInvalidDate: true }),
      (d) => {
        expect(instantOf(d.toISOString())).toBeCloseTo(d.getTime() / 1000, 2);
      },
    ),
  );
  expect(instantOf('2026-11-25T10:00:00+01:30')).toBe(instantOf('2026-11-25T08:30:00Z'));
  expect(() => instantOf('noon')).toThrow(RangeError);
});
