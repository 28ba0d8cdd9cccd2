import { expect, it } from 'vitest';
import type { DayBookEntry } from './day-book-entry.js';
import { overlappingOffCuts } from './overlapping-off-cuts.js';

const at = (minute: number): string => `2026-11-25T10:${String(minute).padStart(2, '0')}:00Z`;
const sheet = (minute: number, anew = false): DayBookEntry => ({
  v: 2,
  kind: 'board',
  when: at(minute),
  board: 'S1',
  stock: 'birch 18',
  width: 2440,
  height: 1220,
  readings: [{ thickness: 17.7 }],
  ...(anew ? { anew } : {}),
});
const offCut = (minute: number, board: string, x: number, turn = 0, parent = 'S1'): DayBookEntry => ({
  v: 2,
  kind: 'off-cut',
  when: at(minute),
  board,
  parent,
  width: 400,
  height: 300,
  motion: { turnedOver: false, turn, x, y: 600 },
});
const others = (id: string, ...entries: DayBookEntry[]): string[] =>
  overlappingOffCuts(entries, id).map((d) => `${d.code} ${d.message}`);

it('names the off-cut whose room another one takes up too, whichever way it lies', () => {
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), offCut(2, 'O2', 100), offCut(3, 'O3', 1900))).toEqual([
    "gauge/off-cuts-overlap off-cut 'O3' and off-cut 'O1' take up the same room of sheet 'S1', 200 mm of it",
  ]);
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), offCut(3, 'O3', 2150, Math.PI / 2))).toHaveLength(1);
});

it('is silent where they lie beside each other, where one is gone, or was cut from the other', () => {
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), offCut(3, 'O3', 1301))).toEqual([]);
  // Turned a quarter it lies to the left of its corner.
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), offCut(3, 'O3', 1700, Math.PI / 2))).toEqual([]);
  const gone: DayBookEntry = { v: 2, kind: 'gone', when: at(2), board: 'O1' };
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), gone, offCut(3, 'O3', 1700))).toEqual([]);
  const own = {
    ...offCut(3, 'O3', 0, 0, 'O1'),
    width: 100,
    motion: { turnedOver: false, turn: 0, x: 10, y: 10 },
  };
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), own as DayBookEntry)).toEqual([]);
});

it('does not hold an off-cut against those of an earlier sheet of the same name', () =>
  expect(others('O3', sheet(0), offCut(1, 'O1', 1700), sheet(2, true), offCut(3, 'O3', 1700))).toEqual([]));
