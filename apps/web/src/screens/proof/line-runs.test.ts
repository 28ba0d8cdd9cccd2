import { expect, it } from 'vitest';
import { lineRuns } from './line-runs.js';

it('gathers lines that follow each other, program by program', () => {
  expect(lineRuns([12, 10, 11, 40])).toEqual([
    { program: undefined, from: 10, to: 12 },
    { program: undefined, from: 40, to: 40 },
  ]);
  expect(lineRuns([1, 1, 2], ['a.ngc', 'b.ngc', 'b.ngc'])).toEqual([
    { program: 'a.ngc', from: 1, to: 1 },
    { program: 'b.ngc', from: 1, to: 2 },
  ]);
});
