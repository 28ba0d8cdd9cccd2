import { describe, expect, it } from 'vitest';
import type { Diagnostic } from './diagnostic.js';
import { gatherDiagnostics, shortPlace } from './gather-diagnostics.js';

const said = (level: Diagnostic['level'], code: string, part: string): Diagnostic => ({
  kind: 'diagnostic',
  level,
  code,
  stage: 'plan',
  message: code,
  locus: { part },
  hint: '',
});

describe('diagnostics of one kind', () => {
  it('are gathered after the second, errors of parts or lines never', () => {
    const notes = ['A', 'B', 'C', 'D'].map((p) => said('note', 'x', p));
    const errors = ['A', 'B', 'C', 'D'].map((p) => said('error', 'x', p));
    const all = gatherDiagnostics([...notes, said('warning', 'x', 'E'), ...errors]);
    expect(all.map((g) => [g.shown.length, g.rest.length])).toEqual([
      [2, 2],
      [1, 0],
      [1, 0],
      [1, 0],
      [1, 0],
      [1, 0],
    ]);
    expect(all[0]!.rest.map(shortPlace)).toEqual(['C', 'D']);
  });

  it('errors of features are gathered where they say the very same, and nowhere else', () => {
    const error = (feature: string, message: string, more: object = {}): Diagnostic => ({
      ...said('error', 'x', 'A'),
      message,
      locus: { part: 'A', feature, board: 'b', ...more },
    });
    const alike = ['m1', 'm2', 'm3', 'm4'].map((f) => error(f, '15 mm of edge, 18 mm to go'));
    const others = ['m5', 'm6', 'm7', 'm8'].map((f, i) => error(f, `${15 + i} mm of edge`));
    const there = [
      error('m9', alike[0]!.message, { board: 'c' }),
      error('m9', alike[0]!.message, { line: 3 }),
    ];
    const all = gatherDiagnostics([...alike, ...others, ...there]);
    expect(all.map((g) => [g.shown.length, g.rest.length])).toEqual([[2, 2], ...Array(6).fill([1, 0])]);
    expect(all[0]!.rest.map(shortPlace)).toEqual(['m3', 'm4']);
  });

  it('are said whole where one alone would be counted', () => {
    const three = ['A', 'B', 'C'].map((p) => said('note', 'x', p));
    expect(gatherDiagnostics(three)).toEqual([{ shown: three, rest: [] }]);
  });
});
