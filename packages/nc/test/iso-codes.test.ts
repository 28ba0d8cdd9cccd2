import { describe, expect, it } from 'vitest';
import { readProgram } from '../src/read/read-program.js';
import codes from './iso-6983/codes.json' with { type: 'json' };

// The code tables of ISO 6983-1 and EIA RS-274-D (from memory): a code that the report's language lacks, or knows as another, must
// never be read in silence as something else.

/** The other words that a code needs to stand on a line. */
const WITH: Readonly<Record<string, string>> = {
  G0: 'X1',
  G1: 'X1',
  G2: 'X2 I1 J0',
  G3: 'X2 I1 J0',
  G4: 'P1',
  G33: 'X1',
  G34: 'X1',
  G35: 'X1',
  G41: 'D1',
  G42: 'D1',
  G43: 'H1',
  G44: 'H1',
  G53: 'G0 X1',
  G82: 'X1 Z-1 R1 P1',
  G83: 'X1 Z-1 R1 Q1',
  G86: 'X1 Z-1 R1 P1',
  G88: 'X1 Z-1 R1 P1',
  G89: 'X1 Z-1 R1 P1',
  G92: 'X1',
  M6: 'T1',
};
const wordsOf = (code: string): string => WITH[code] ?? (/^G8[1-9]$/.test(code) ? 'X1 Z-1 R1' : '');
const read = (code: string) =>
  readProgram(`G71 G90 G94\nF100 S1000 G0 X0 Y0 Z5\n${code} ${wordsOf(code)}\nG1 X3 Y3 Z3 F100\nM30\n`, {
    meaning: { units: 'G70 G71', centres: 'incremental', dwell: 'seconds' },
  });
const errorsAt3 = (code: string) =>
  read(code).diagnostics.filter((d) => d.level === 'error' && d.locus.line === 3);

describe('codes that mean the same are read', () => {
  it.each(codes.same)('%s', (code) => expect(errorsAt3(code)).toEqual([]));
  it('G70 counts in inches, G71 in millimetres', () => {
    const end = (unit: string) =>
      readProgram(`${unit} G0 X1\nM30`, { meaning: { units: 'G70 G71' } }).moves.flatMap((m) =>
        m.kind === 'rapid' ? [m.to.x] : [],
      );
    expect(end('G70')).toEqual([25.4]);
    expect(end('G71')).toEqual([1]);
  });
});

describe('codes that the language lacks are refused, with a sentence', () => {
  it.each(codes.refused)('%s', (code) => {
    const errors = errorsAt3(code);
    expect(errors).toHaveLength(1);
    expect(errors[0]!.message).toMatch(new RegExp(`\\b${code}\\b`));
  });
});

describe('codes that mean another thing leave nothing certain', () => {
  it.each(codes.unsure)('%s', (code) => {
    const { moves, diagnostics } = read(code);
    const unsure = moves.some(
      (m) =>
        m.kind !== 'stop' && 'toKnown' in m && m.line >= 3 && !(m.toKnown.x && m.toKnown.y && m.toKnown.z),
    );
    const unknownFrom = moves.some(
      (m) => 'fromKnown' in m && m.line > 3 && !Object.values(m.fromKnown).every(Boolean),
    );
    expect(unsure || unknownFrom || diagnostics.some((d) => d.locus.line === 3)).toBe(true);
  });
});

it('no code stands in two of the lists, and every G and M code of the standard’s table does in one', () => {
  const all = [...codes.same, ...codes.refused, ...codes.unsure];
  expect(new Set(all).size).toBe(all.length);
  for (const letter of ['G', 'M'])
    for (let n = 0; n < 100; n++) {
      const code = `${letter}${n}`;
      // What no table assigns must be refused too, unless the report's language has it.
      const own = ['G10', 'G28', 'G30', 'G49', 'G64', 'G98', 'G99'];
      if (!all.includes(code) && !own.includes(code)) expect(errorsAt3(code), code).toHaveLength(1);
    }
});
