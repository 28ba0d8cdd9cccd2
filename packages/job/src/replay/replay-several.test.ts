import { describe, expect, it } from 'vitest';
import type { ReplayData } from './replay-html.js';
import { joinReplays } from './replay-several.js';

const data = (start: readonly [number, number, number], moves: ReplayData['moves']): ReplayData => ({
  start,
  moves,
  lines: ['G21', 'G0 Z28', 'M2'],
  outlines: [],
  board: [0, 0, 100, 50],
  top: 18,
  bottom: 0,
});

describe('replays one after the other', () => {
  const joined = joinReplays([
    { file: 'a.ngc', data: data([0, 0, 30], [[10, 0, 28, 2, 150, 1, 3]]) },
    { file: 'b.ngc', data: data([5, 5, 28], [[5, 5, 0, 2, 40, 2, 2.5, 4, 5, 1.5]]) },
  ]);

  it('count lines and times through all of them, below their names', () => {
    expect(joined.lines).toEqual([
      ...['-- a.ngc', 'G21', 'G0 Z28', 'M2'],
      ...['-- b.ngc', 'G21', 'G0 Z28', 'M2'],
    ]);
    expect(joined.moves).toEqual([
      [10, 0, 28, 3, 150, 1, 3],
      // It begins where it begins, in no time.
      [5, 5, 28, 5, 150, 0, 0],
      [5, 5, 0, 7, 190, 2, 2.5, 4, 5, 1.5],
    ]);
    expect(joined.lines[joined.moves.at(-1)![3]! - 1]).toBe('G0 Z28');
  });

  it('of one program are that program’s', () => {
    const one = data([0, 0, 30], []);
    expect(joinReplays([{ file: 'a.ngc', data: one }])).toBe(one);
  });

  it('are none without a program', () => {
    expect(() => joinReplays([])).toThrow(RangeError);
  });
});
