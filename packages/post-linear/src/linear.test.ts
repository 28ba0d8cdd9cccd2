import type { Toolpath } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { writeProgram } from '@haunch/nc/write';
import { expect, it } from 'vitest';
import { linearWith } from './linear.js';

const from = 'b/001';
const toolpath: Toolpath = {
  kind: 'toolpath',
  board: 'b',
  moves: [
    { kind: 'cutter', number: 1, id: 'c', from },
    { kind: 'spindle', rpm: 12_000, from },
    { kind: 'rapid', to: { x: 30, y: 10, z: 20 }, from },
    { kind: 'circular', to: { x: 30, y: 10, z: 20 }, centre: { x: 20, y: 10 }, turn: 'cw', feed: 1800, from },
  ],
};

it.each([{}, { unit: 'inch' as const, decimals: 5 }, { chordTolerance: 0.05 }])(
  'writes no circular word, and chords that leave the circle by no more than the tolerance and a step: %o',
  (options) => {
    const post = linearWith(options);
    const program = writeProgram(toolpath, post, { title: 'T' });
    if (!program.ok) throw new Error('refused');
    expect(program.value.text).not.toMatch(/G[23]\b|[IJR]-?\d/);
    const reading = readProgram(program.value.text);
    expect(reading.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    const step = 10 ** -post.dialect.decimals * (post.dialect.unit === 'mm' ? 1 : 25.4);
    const chords = reading.moves.filter((m) => m.kind === 'linear');
    expect(chords.length).toBeGreaterThan(8);
    for (const m of chords) {
      if (m.kind !== 'linear') continue;
      const middle = Math.hypot((m.from.x + m.to.x) / 2 - 20, (m.from.y + m.to.y) / 2 - 10);
      expect(10 - middle).toBeLessThan(post.dialect.arcs.chordTolerance + step);
      expect(Math.abs(Math.hypot(m.to.x - 20, m.to.y - 10) - 10)).toBeLessThan(step);
    }
  },
);

it('refuses a tolerance that is none', () => {
  expect(() => linearWith({ chordTolerance: 0 })).toThrow(RangeError);
  expect(() => linearWith({ decimals: 2.5 })).toThrow(RangeError);
});
