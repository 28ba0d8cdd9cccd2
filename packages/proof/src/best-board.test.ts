import { loadClip } from '@haunch/geometry';
import { readProgram } from '@haunch/nc/read';
import { expect, it } from 'vitest';
import { board, contour, lines, plate, tagged, text } from '../test/plate.js';
import { bestBoard } from './best-board.js';

await loadClip();
const other = { ...plate, id: 'C', outline: contour('C', tagged('C', 10, 10, 40, 150)), through: [] };
const choices = [
  { board: { ...board, id: 'other' }, items: [{ item: 'C', piece: 1, part: other }] },
  { board, items: [{ item: 'A', piece: 1, part: plate }] },
];

it('finds the board that a program cuts among several', () => {
  expect(bestBoard(readProgram(text(lines()), {}), choices)).toBe('sheet-1');
});

it('answers with none when no board is cut, or nothing is', () => {
  expect(bestBoard(readProgram(text(lines()), {}), choices.slice(0, 1))).toBeNull();
  expect(bestBoard(readProgram('G21\nM2\n', {}), choices)).toBeNull();
});
