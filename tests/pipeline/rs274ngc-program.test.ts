import type { Move, Toolpath } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { writeProgram } from '@haunch/nc/write';
import { rs274ngc, rs274ngcWith } from '@haunch/post-rs274ngc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

const from = 'sheet-1/001 A.m1';
const to = (x: number, y: number, z: number) => ({ x, y, z });
const path = (moves: readonly Move[]): Toolpath => ({ kind: 'toolpath', board: 'sheet-1', moves });
const text = (moves: readonly Move[], post = rs274ngc): string => {
  const out = writeProgram(path(moves), post, { title: 'Sideboard (17.4)' });
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.text;
};

describe('a small program', () => {
  const moves: Move[] = [
    { kind: 'note', text: `${from} inside profile`, from },
    { kind: 'rapid', to: to(0, 0, 15), from },
    { kind: 'cutter', number: 2, id: 'c9', from },
    { kind: 'spindle', rpm: 18_000, from },
    { kind: 'dwell', seconds: 3, from },
    { kind: 'rapid', to: to(30, 20, 15), from },
    { kind: 'linear', to: to(30, 20, -2.5), feed: 1500, from },
    { kind: 'circular', to: to(30, 20, -5), centre: { x: 35, y: 20 }, turn: 'ccw', feed: 3000, from },
    { kind: 'circular', to: to(30, 20, -5), centre: { x: 35, y: 20 }, turn: 'ccw', feed: 3000, from },
    { kind: 'linear', to: to(40, 20, -5), feed: 3000, from },
    { kind: 'rapid', to: to(40, 20, 15), from },
    { kind: 'spindle', rpm: 0, from },
  ];
  it('reads as a person would write it', () =>
    expect(text(moves)).toBe(`(Sideboard [17.4])
(board sheet-1)
G17 G21 G40 G49 G80 G90 G94 G54
(sheet-1/001 A.m1 inside profile)
G0 Z15
X0 Y0
M5
T2 M6 (cutter c9)
S18000 M3
G4 P3
G0 Z15
X30 Y20
G1 Z-2.5 F1500
G3 X30 Y20 Z-5 I5 J0 F3000
X30 Y20 I5 J0
G1 X40
G0 Z15
M5
M2
`));
  it('is read back without a word, with the spindle running in every cut', () => {
    const { moves: read, diagnostics, end, unitSeen } = readProgram(text(moves));
    expect(diagnostics).toEqual([]);
    expect([end, unitSeen]).toEqual(['M2', true]);
    const cuts = read.filter((m) => m.kind === 'linear' || m.kind === 'arc');
    expect(cuts).toHaveLength(4);
    expect(cuts.every((m) => m.spindle === 18_000 && m.tool === 2)).toBe(true);
  });
});

/** Random cuts on the 0.0001 mm grid: lines, arcs of the radii of curved panels and of cutters, full turns, helices. */
const cuts: fc.Arbitrary<Move[]> = fc
  .array(
    fc.record({
      x: fc.integer({ min: 0, max: 25_000_000 }),
      y: fc.integer({ min: 0, max: 12_500_000 }),
      z: fc.integer({ min: -190_000, max: 0 }),
      radius: fc.constantFrom(0, 3.175, 18.5, 3130, 4010),
      sweep: fc.oneof(fc.constant(2 * Math.PI), fc.double({ min: 0.0005, max: 6.28, noNaN: true })),
      turn: fc.constantFrom('cw' as const, 'ccw' as const),
      feed: fc.integer({ min: 100, max: 12_000 }),
    }),
    { minLength: 1, maxLength: 20 },
  )
  .map((steps) => {
    const grid = (v: number) => Math.round(v * 10_000) / 10_000 + 0;
    const moves: Move[] = [{ kind: 'rapid', to: to(0, 0, 15), from }];
    let at = to(0, 0, 15);
    for (const { x, y, z, radius, sweep, turn, feed } of steps) {
      if (radius === 0) {
        at = to(x / 10_000, y / 10_000, z / 10_000);
        moves.push({ kind: 'linear', to: at, feed, from });
        continue;
      }
      const centre = { x: grid(at.x - radius), y: at.y };
      const angle = turn === 'ccw' ? sweep : -sweep;
      const end =
        sweep === 2 * Math.PI
          ? to(at.x, at.y, z / 10_000)
          : to(
              grid(centre.x + radius * Math.cos(angle)),
              grid(centre.y + radius * Math.sin(angle)),
              z / 10_000,
            );
      moves.push({ kind: 'circular', to: end, centre, turn, feed, from });
      at = end;
    }
    return moves;
  });

describe('every program of the RS274/NGC post reads back as its toolpath', () => {
  it.each([
    ['millimetres', rs274ngc, 0.00005],
    [
      'millimetres, three decimals, line numbers',
      rs274ngcWith({ decimals: 3, lineNumbers: { start: 10, step: 10 } }),
      0.0005,
    ],
    ['inches', rs274ngcWith({ unit: 'inch' }), 0.000127],
  ])('%s', (_, post, half) =>
    fc.assert(
      fc.property(cuts, (moves) => {
        const out = writeProgram(path(moves), post, { title: 'law' });
        if (!out.ok) throw new Error(out.diagnostics[0]!.message);
        const reading = readProgram(out.value.text);
        expect(reading.diagnostics).toEqual([]);
        const ends = new Map(
          reading.moves.flatMap((m) => ('to' in m ? [[out.value.lineMoves[m.line - 1], m] as const] : [])),
        );
        moves.forEach((m, i) => {
          const read = ends.get(i);
          if (!('to' in m) || !read) return;
          for (const axis of ['x', 'y', 'z'] as const)
            expect(Math.abs(read.to[axis] - m.to[axis])).toBeLessThanOrEqual(half + 1e-9);
          if (m.kind === 'circular' && read.kind === 'arc') {
            expect(read.turn).toBe(m.turn);
            const wanted = Math.hypot(m.to.x - m.centre.x, m.to.y - m.centre.y);
            const apart = [read.from, read.to].map((p) =>
              Math.hypot(p.x - read.centre.x, p.y - read.centre.y),
            );
            expect(Math.abs(apart[0]! - apart[1]!)).toBeLessThanOrEqual(0.0005 + 1e-9);
            // A short arc's radius is worth little; what counts is how far its middle leaves the chord.
            const sagitta = (r: number) => r * (1 - Math.cos(Math.min(Math.PI, Math.abs(read.sweep)) / 2));
            expect(Math.abs(sagitta(apart[0]!) - sagitta(wanted))).toBeLessThanOrEqual(8 * half);
          }
        });
      }),
      { numRuns: 200 },
    ),
  );
});
