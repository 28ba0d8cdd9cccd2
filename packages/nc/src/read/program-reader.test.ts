import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NcMove } from './nc-reading.js';
import { programReader, readProgram } from './read-program.js';

const inPieces = (text: string, cuts: readonly number[]) => {
  const moves: NcMove[] = [];
  const reader = programReader((m) => moves.push(m));
  const places = [0, ...cuts.map((c) => Math.floor(c * (text.length + 1))), text.length].sort(
    (a, b) => a - b,
  );
  for (let i = 1; i < places.length; i++) reader.read(text.slice(places[i - 1], places[i]));
  return { moves, ...reader.end() };
};

const lines = fc.array(
  fc.constantFrom(
    '',
    '%',
    'G21 G90 G94',
    'G0 X1 Y2 Z3',
    'G1 X4 F500',
    'G2 X8 I2 J0',
    'X1 Y1 (an open comment',
    'Y..2',
    '#1=3 X#1',
    'G4 P0.5',
    'T1 M6',
    'M3 S9000',
    'M2',
    '  ',
  ),
  { maxLength: 12 },
);

describe('a reader that is fed in pieces', () => {
  it('reads the same, wherever the text is cut and however its lines end', () =>
    fc.assert(
      fc.property(
        lines,
        fc.constantFrom('\n', '\r\n'),
        fc.boolean(),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 8 }),
        (all, ending, closed, cuts) => {
          const text = all.join(ending) + (closed ? ending : '');
          expect(inPieces(text, cuts)).toEqual(readProgram(text));
        },
      ),
      { numRuns: 500 },
    ));

  it('hands over a move as soon as its line is whole, and no sooner', () => {
    const moves: NcMove[] = [];
    const reader = programReader((m) => moves.push(m));
    reader.read('G21 G90\nG0 Z5\nG0 X1');
    expect(moves.map((m) => m.line)).toEqual([2]);
    reader.read('0 Y2\nM2');
    expect(moves.at(-1)).toMatchObject({ line: 3, to: { x: 10, y: 2, z: 5 } });
    expect(reader.end()).toMatchObject({ end: 'M2', blocks: 4 });
  });

  it('says that nothing more counts after the end', () => {
    const reader = programReader(() => {});
    expect(reader.read('G21\n')).toBe(true);
    expect(reader.read('M2\nG0 X1\n')).toBe(false);
    expect(reader.read('G0 X1\n')).toBe(false);
    expect(reader.end().blocks).toBe(2);
  });
});

describe('centres counted from the origin', () => {
  const read = (arc: string) =>
    readProgram(`G21 G90 G94\nF100 G1 X10 Y0 Z0\n${arc}\nM2\n`, { meaning: { centres: 'absolute' } });

  it('need both of their words: a missing one could be anything', () => {
    expect(read('G3 X-10 Y0 I0 J0').diagnostics).toEqual([]);
    for (const arc of ['G3 X-10 Y0 I0', 'G3 X-10 Y0 J0']) {
      const [d] = read(arc).diagnostics;
      expect(d).toMatchObject({ level: 'error', locus: { line: 3 } });
      expect(d!.message).toContain(arc.endsWith('I0') ? 'J' : 'I');
    }
  });
});
