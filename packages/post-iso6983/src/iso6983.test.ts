import type { Toolpath } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { writeProgram } from '@haunch/nc/write';
import { describe, expect, it } from 'vitest';
import { type Iso6983Options, iso6983With } from './iso6983.js';

const from = 'b/001';
const toolpath: Toolpath = {
  kind: 'toolpath',
  board: 'b',
  moves: [
    { kind: 'note', text: 'a note that has no place in this dialect', from },
    { kind: 'cutter', number: 3, id: 'router-6', from },
    { kind: 'spindle', rpm: 18_000, from },
    { kind: 'dwell', seconds: 2.5, from },
    { kind: 'rapid', to: { x: 30, y: 10, z: 20 }, from },
    { kind: 'linear', to: { x: 30, y: 10, z: -2 }, feed: 600, from },
    {
      kind: 'circular',
      to: { x: 30, y: 10, z: -2 },
      centre: { x: 20, y: 10 },
      turn: 'ccw',
      feed: 1800,
      from,
    },
    {
      kind: 'circular',
      to: { x: 10, y: 10, z: -3 },
      centre: { x: 20, y: 10 },
      turn: 'ccw',
      feed: 1800,
      from,
    },
  ],
};
const textOf = (options: Iso6983Options = {}): string => {
  const program = writeProgram(toolpath, iso6983With(options), { title: 'T' });
  if (!program.ok) throw new Error(program.diagnostics[0]?.message);
  return program.value.text;
};

describe('plain ISO 6983-1', () => {
  it('writes line numbers, no comments, and no character but capital letters, digits, signs, points and blanks', () => {
    const lines = textOf().trimEnd().split('\n');
    lines.forEach((l, i) => {
      expect(l).toMatch(/^N\d+ [A-Z0-9 .+-]+$/);
      expect(l.startsWith(`N${10 + 10 * i} `)).toBe(true);
    });
    expect(lines[0]).toBe('N10 G17 G71 G40 G90 G94');
    expect(lines.at(-1)).toMatch(/ M30$/);
  });

  it('parts a full turn into half circles, and a helix into chords', () => {
    const arcs = textOf()
      .split('\n')
      .filter((l) => /G[23] /.test(l) || / I/.test(l));
    expect(arcs).toHaveLength(2);
    const quarters = textOf({ arcs: 'quarters' })
      .split('\n')
      .filter((l) => / [IJ]/.test(l));
    expect(quarters).toHaveLength(4);
  });

  it.each<Iso6983Options>([
    {},
    { centres: 'absolute' },
    { unit: 'inch' },
    { unit: 'inch', centres: 'absolute', arcs: 'quarters', lineNumbers: null },
    { unitCodes: 'G20 G21', repeat: true },
  ])('reads back as the same way of the cutter: %o', (options) => {
    const post = iso6983With(options);
    const reading = readProgram(textOf(options), { meaning: post.dialect.meaning! });
    expect(reading.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    const step = 10 ** -post.dialect.decimals * (post.dialect.unit === 'mm' ? 1 : 25.4);
    const arcs = reading.moves.filter((m) => m.kind === 'arc');
    for (const a of arcs) {
      if (a.kind !== 'arc') continue;
      expect(Math.abs(a.centre.x - 20)).toBeLessThan(2 * step);
      expect(Math.abs(Math.hypot(a.from.x - a.centre.x, a.from.y - a.centre.y) - 10)).toBeLessThan(2 * step);
    }
    const turned = arcs.reduce((sum, a) => sum + (a.kind === 'arc' ? a.sweep : 0), 0);
    expect(turned).toBeCloseTo(2 * Math.PI, 3);
    const last = reading.moves.at(-1);
    expect(last && 'to' in last ? [last.to.x, last.to.y, last.to.z].map((v) => +v.toFixed(2)) : []).toEqual([
      10, 10, -3,
    ]);
  });

  it('is not understood, and says so, by a reader that is not told of its unit codes', () => {
    expect(readProgram(textOf()).diagnostics.map((d) => d.message)).toContain(
      'G71 is not a code of this language.',
    );
  });

  it('refuses decimals that make no sense', () => {
    expect(() => iso6983With({ decimals: 7 })).toThrow(RangeError);
  });
});
