import type { Toolpath } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { readProgram } from '../read/index.js';
import { type DialectDeclaration, defineDialect } from './define-dialect.js';
import { writeProgram } from './write-program.js';

const declaration: DialectDeclaration = {
  name: 'example',
  dialect: {
    name: 'example',
    extension: 'txt',
    unit: 'mm',
    decimals: 3,
    feedDecimals: 0,
    arcs: {
      form: 'radius',
      centre: 'incremental',
      greatestSweep: Math.PI,
      helix: true,
      chordTolerance: 0.005,
    },
    modal: true,
    lineNumbers: null,
    blockLength: 80,
    comments: { open: '(', close: ')' },
    words: { blanks: false, point: 'always', leadingZero: false },
  },
  start: ['({title}, board {board})', 'G21 G90'],
  cutter: ['T{number} M6 ({id})'],
  spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
  dwell: 'G4 P{seconds}',
  note: '({text})',
  end: ['M30'],
};
const from = 'b/001';
const toolpath: Toolpath = {
  kind: 'toolpath',
  board: 'b',
  moves: [
    { kind: 'note', text: 'ring', from },
    { kind: 'cutter', number: 3, id: 'router-6', from },
    { kind: 'spindle', rpm: 18_000, from },
    { kind: 'dwell', seconds: 0.5, from },
    { kind: 'rapid', to: { x: 30, y: 10, z: 20 }, from },
    { kind: 'linear', to: { x: 30, y: 10, z: -0.25 }, feed: 600, from },
    {
      kind: 'circular',
      to: { x: 30, y: 10, z: -0.25 },
      centre: { x: 20, y: 10 },
      turn: 'ccw',
      feed: 1800,
      from,
    },
  ],
};
const written = (d: DialectDeclaration): string => {
  const program = writeProgram(toolpath, defineDialect(d), { title: 'Sideboard' });
  if (!program.ok) throw new Error(program.diagnostics[0]?.message);
  return program.value.text;
};

describe('defineDialect', () => {
  it('writes what was declared, word by word', () => {
    const lines = written(declaration).split('\n');
    expect(lines.slice(0, 10)).toEqual([
      '(Sideboard, board b)',
      'G21G90',
      '(ring)',
      'M5',
      'T3M6 (router-6)',
      'S18000M3',
      'G4P.5',
      'G0Z20.',
      'X30.Y10.',
      'G1Z-.25F600.',
    ]);
    expect(lines[10]).toMatch(/^G3X-?[\d.]+Y-?[\d.]+R10\.F1800\.$/);
  });

  it('parts arcs in radius form so that none comes near half a turn, and they read back as the circle', () => {
    const reading = readProgram(written(declaration));
    expect(reading.diagnostics.filter((d) => d.level !== 'note')).toEqual([]);
    const arcs = reading.moves.filter((m) => m.kind === 'arc');
    expect(arcs).toHaveLength(3);
    for (const a of arcs)
      if (a.kind === 'arc') {
        expect(Math.abs(a.sweep)).toBeLessThanOrEqual((165 / 180) * Math.PI + 1e-3);
        expect(Math.hypot(a.centre.x - 20, a.centre.y - 10)).toBeLessThan(0.005);
      }
  });

  it('refuses a block that is no block, and a field that has no value there, naming both', () => {
    expect(() => defineDialect({ ...declaration, end: ['m30'] })).toThrow(/"m30" in "m30" is no word/);
    expect(() => defineDialect({ ...declaration, cutter: ['T{numbr} M6'] })).toThrow(
      /\{numbr\} has no value here; known: number/,
    );
    expect(() => defineDialect({ ...declaration, dwell: 'G4 P{rpm}' })).toThrow(/\{rpm\}/);
  });
});
