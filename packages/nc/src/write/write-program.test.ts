import type { Move, Toolpath } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { type DialectChanges, plainPost } from '../../test/plain-post.js';
import { writeProgram } from './write-program.js';

const from = 'sheet-1/001 A.outline';
const at = (x: number, y: number, z: number) => ({ x, y, z });
const rapid = (x: number, y: number, z: number): Move => ({ kind: 'rapid', to: at(x, y, z), from });
const line = (x: number, y: number, z: number, feed = 1000): Move => ({
  kind: 'linear',
  to: at(x, y, z),
  feed,
  from,
});
const arc = (x: number, y: number, z: number, cx: number, cy: number, turn: 'cw' | 'ccw' = 'ccw'): Move => ({
  kind: 'circular',
  to: at(x, y, z),
  centre: { x: cx, y: cy },
  turn,
  feed: 1000,
  from,
});
const path = (...moves: Move[]): Toolpath => ({ kind: 'toolpath', board: 'sheet-1', moves });
const write = (moves: Move[], changes: DialectChanges = {}) =>
  writeProgram(path(...moves), plainPost(changes), { title: 'test' });
/** The lines between the start and the end of the program. */
const lines = (moves: Move[], changes: DialectChanges = {}): string[] => {
  const out = write(moves, changes);
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.text.trimEnd().split('\n').slice(2, -1);
};

describe('words in force are not repeated', () => {
  it('motion code, coordinates and feed', () =>
    expect(
      lines([rapid(0, 0, 5), line(0, 0, -1), line(10, 0, -1), line(10, 5, -1, 500), rapid(10, 5, 5)]),
    ).toEqual(['G0 Z5', 'X0 Y0', 'G1 Z-1 F1000', 'X10', 'Y5 F500', 'G0 Z5']));
  it('never I and J, and an arc keeps a word in its plane', () =>
    expect(lines([rapid(5, 0, 5), arc(5, 0, 5, 0, 0), arc(5, 0, 5, 0, 0), arc(-5, 0, 5, 0, 0)])).toEqual([
      'G0 Z5',
      'X5 Y0',
      'G3 X5 Y0 I-5 J0 F1000',
      'X5 Y0 I-5 J0',
      'X-5 I-5 J0',
    ]));
  it('unless the dialect wants every word', () =>
    expect(lines([rapid(0, 0, 5), line(0, 0, -1), line(10, 0, -1)], { modal: false }).slice(2)).toEqual([
      'G1 X0 Y0 Z-1 F1000',
      'G1 X10 Y0 Z-1 F1000',
    ]));
  it('everything is said anew after a change of cutter, the raise first', () =>
    expect(
      lines([rapid(0, 0, 5), line(1, 0, 5), { kind: 'cutter', number: 2, id: 'c', from }, rapid(1, 0, 5)]),
    ).toEqual(['G0 Z5', 'X0 Y0', 'G1 X1 F1000', 'T2 M6', 'G0 Z5', 'X1 Y0']));
  it('a cut right after a change of cutter begins where the toolpath left off', () => {
    const out = write([rapid(0, 0, 5), { kind: 'cutter', number: 2, id: 'c', from }, line(0, 0, -1)]);
    expect(out.ok && out.value.text.split('\n').slice(4, -2)).toEqual([
      'T2 M6',
      'G0 Z5',
      'X0 Y0',
      'G1 Z-1 F1000',
    ]);
    expect(out.ok && out.value.lineMoves).toEqual([null, null, 0, 0, 1, 1, 1, 2, null]);
  });
});

describe('moves that round to nothing', () => {
  it('are left out, and what follows starts from the rounded place', () =>
    expect(lines([rapid(0, 0, 0), line(0.00004, 0, 0), line(0.00008, 0, 0), line(1, 0, 0)]).slice(2)).toEqual(
      ['G1 X0.0001 F1000', 'X1'],
    ));
  it('a short flat arc becomes its chord; one that rounds to nothing vanishes', () =>
    expect(
      lines([
        rapid(0, 0, 0),
        arc(0.5, 0.00003, 0, 0, 4010),
        arc(0.50001, 0.00003, 0, 0, 4010),
        line(1, 0, 0),
      ]).slice(2),
    ).toEqual(['G1 X0.5 F1000', 'X1']));
});

describe('what a dialect lacks is lowered', () => {
  const circle = [rapid(10, 0, 0), arc(10, 0, 0, 0, 0, 'cw')];
  it('full circles in two where half turns are the most', () =>
    expect(lines(circle, { arcs: { greatestSweep: Math.PI } }).slice(2)).toEqual([
      'G2 X-10 I-10 J0 F1000',
      'X10 I10 J0',
    ]));
  it('absolute centres', () =>
    expect(lines([rapid(13, 4, 0), arc(3, 14, 0, 3, 4)], { arcs: { centre: 'absolute' } }).at(-1)).toBe(
      'G3 X3 Y14 I3 J4 F1000',
    ));
  it('chords on the circle within the tolerance', () => {
    // Reference value G4: radius 25, sagitta 0.01 needs 112 chords.
    const chords = lines([rapid(25, 0, 0), arc(25, 0, 0, 0, 0)], {
      arcs: { form: 'none', chordTolerance: 0.01 },
    });
    expect(chords).toHaveLength(2 + 112);
    expect(chords.join()).not.toMatch(/[IJ]|G[23]/);
  });
  it('helices as chords that fall with the turn', () => {
    const chords = lines([rapid(25, 0, 0), arc(25, 0, -2, 0, 0)], { arcs: { helix: false } });
    expect(chords.filter((l) => /Z/.test(l))).toHaveLength(1 + 112);
    expect(chords.at(-1)).toBe('X25 Y0 Z-2');
  });
  it('inches, feed included', () =>
    expect(lines([rapid(25.4, 0, 12.7), line(0, 0, 12.7, 2540)], { unit: 'inch' })).toEqual([
      'G0 Z0.5',
      'X1 Y0',
      'G1 X0 F100',
    ]));
  it('line numbers that start again after 99999', () =>
    expect(
      lines([rapid(0, 0, 0), line(1, 0, 0), line(2, 0, 0)], { lineNumbers: { start: 99_996, step: 1 } }).map(
        (l) => l.split(' ')[0],
      ),
    ).toEqual(['N99998', 'N99999', 'N99996', 'N99997']));
  it('comments cut to the block length, or left out', () => {
    const note: Move = { kind: 'note', text: 'a long note (with brackets)', from };
    expect(lines([note], { blockLength: 16 })).toEqual(['(a long note [w)'.slice(0, 16)]);
    expect(write([note], { comments: null })).toMatchObject({ value: { text: 'G21 G17 G90\nM2\n' } });
  });
});

describe('what cannot be written is refused with the workingstep', () => {
  it.each<[string, Move[], DialectChanges]>([
    ['post/cut-from-unknown-place', [line(1, 1, 1)], {}],
    ['post/arc-ends-apart', [rapid(10, 0, 0), arc(0, 10.003, 0, 0, 0)], {}],
    ['post/arc-ends-apart', [rapid(0, 0, 0), arc(0, 0, 0, 0, 0)], {}],
    ['post/feed-too-small', [rapid(0, 0, 0), line(1, 0, 0, 0.01)], {}],
    ['post/block-too-long', [rapid(0, 0, 0), line(1234.5678, 2345.6789, -1.2345)], { blockLength: 20 }],
  ])('%s', (code, moves, changes) => {
    const out = write(moves, changes);
    expect(out.ok).toBe(false);
    expect(out.diagnostics[0]).toMatchObject({ code, locus: { board: 'sheet-1' } });
    expect(out.diagnostics[0]!.message).toContain(from);
  });
});

describe('misuse throws', () => {
  it.each<[string, Move]>([
    ['a place that is no number', rapid(Number.NaN, 0, 0)],
    ['a place out of the world', rapid(1e7, 0, 0)],
    ['a feed of nothing', line(0, 0, 0, 0)],
    ['a negative dwell', { kind: 'dwell', seconds: -1, from }],
    ['a cutter without a whole number', { kind: 'cutter', number: 1.5, id: 'c', from }],
    ['an endless speed', { kind: 'spindle', rpm: Infinity, from }],
  ])('%s', (_, move) => expect(() => write([move])).toThrow(RangeError));
  it.each<[string, DialectChanges]>([
    ['decimals', { decimals: 7 }],
    ['feed decimals', { feedDecimals: -1 }],
    ['sweep', { arcs: { greatestSweep: 0 } }],
    ['tolerance', { arcs: { chordTolerance: Number.NaN } }],
    ['block length', { blockLength: 0 }],
    ['line numbers', { lineNumbers: { start: 0, step: 0 } }],
  ])('a dialect without sense: %s', (_, changes) => expect(() => write([], changes)).toThrow(RangeError));
  it('a post of another contract, or one that writes no words', () => {
    const post = plainPost();
    const other = { ...post, contract: 2 } as unknown as typeof post;
    expect(() => writeProgram(path(), other, { title: '' })).toThrow(TypeError);
    for (const word of [
      { letter: 'x', value: 1 },
      { letter: 'X', value: Number.NaN },
    ])
      expect(() =>
        writeProgram(path(), { ...post, start: () => [{ words: [word] }] }, { title: '' }),
      ).toThrow(TypeError);
  });
});
