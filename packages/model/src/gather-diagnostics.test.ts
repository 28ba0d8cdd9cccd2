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
  it('are gathered after the second, errors never', () => {
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

  it('are said whole where one alone would be counted', () => {
    const three = ['A', 'B', 'C'].map((p) => said('note', 'x', p));
    expect(gatherDiagnostics(three)).toEqual([{ shown: three, rest: [] }]);
  });
});
