import type { Move, Toolpath } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { moveLength } from '../src/read/move-length.js';
import type { NcArc, NcMotion } from '../src/read/nc-reading.js';
import { readProgram } from '../src/read/read-program.js';
import { type DialectDeclaration, defineDialect } from '../src/write/define-dialect.js';
import { assertChoices, type PostChoices, withChoices } from '../src/write/post-choices.js';
import { writeProgram } from '../src/write/write-program.js';

const base: DialectDeclaration = {
  name: 'plain',
  dialect: {
    name: 'plain',
    extension: 'nc',
    unit: 'mm',
    decimals: 3,
    feedDecimals: 1,
    arcs: {
      form: 'centre',
      centre: 'incremental',
      greatestSweep: 2 * Math.PI,
      helix: true,
      chordTolerance: 0.01,
    },
    modal: true,
    lineNumbers: null,
    blockLength: 120,
    comments: { open: '(', close: ')' },
  },
  start: ['({title})', 'G17 G21 G90 G94'],
  cutter: ['T{number} M6 (cutter {id})'],
  spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
  dwell: 'G4 P{seconds}',
  note: '({text})',
  end: ['M2'],
};

const from = 'b/001';
const rapid = (x: number, y: number, z: number): Move => ({ kind: 'rapid', to: { x, y, z }, from });
const cut = (x: number, y: number, z: number, feed = 1200): Move => ({
  kind: 'linear',
  to: { x, y, z },
  feed,
  from,
});
const arc = (x: number, y: number, z: number, cx: number, cy: number): Move => ({
  kind: 'circular',
  to: { x, y, z },
  centre: { x: cx, y: cy },
  turn: 'ccw',
  feed: 1800,
  from,
});
/** A straight way, a full circle, a helix, a long arc, two holes (one with a dwell) and a second cutter. */
const toolpath: Toolpath = {
  kind: 'toolpath',
  board: 'b',
  moves: [
    { kind: 'cutter', number: 3, id: 'router-6', from },
    { kind: 'spindle', rpm: 18_000, from },
    rapid(30.5, 10, 20),
    cut(30.5, 10, -2, 600),
    arc(30.5, 10, -2, 20.5, 10),
    arc(10.5, 10, -3, 20.5, 10),
    arc(20.5, 20, -3, 20.5, 10),
    cut(12.5, 20, -3),
    rapid(12.5, 20, 20),
    { kind: 'spindle', rpm: 0, from },
    { kind: 'cutter', number: 5, id: 'drill-8', from },
    { kind: 'spindle', rpm: 6000, from },
    rapid(40, 10, 20),
    rapid(40, 10, 2),
    cut(40, 10, -5, 300),
    rapid(40, 10, 2),
    rapid(55, 10, 2),
    cut(55, 10, -5, 300),
    { kind: 'dwell', seconds: 0.5, from },
    rapid(55, 10, 20),
    rapid(0, 0, 20),
  ],
};

const written = (choices: PostChoices) => {
  const declared = choices.unit === 'inch' ? inches : base;
  const post = defineDialect(withChoices(declared, choices));
  const program = writeProgram(toolpath, post, { title: 'T' });
  if (!program.ok) throw new Error(program.diagnostics[0]?.message);
  const { meaning } = post.dialect;
  const reading = readProgram(program.value.text, meaning ? { meaning } : {});
  return { ...program.value, reading, dialect: post.dialect };
};
const inches: DialectDeclaration = {
  ...base,
  dialect: { ...base.dialect, unit: 'inch', decimals: 4 },
  start: ['({title})', 'G17 G20 G90 G94'],
};

const motionsOf = (reading: ReturnType<typeof readProgram>): NcMotion[] =>
  reading.moves.filter((m): m is NcMotion => m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc');
const arcsOf = (reading: ReturnType<typeof readProgram>): NcArc[] =>
  reading.moves.filter((m): m is NcArc => m.kind === 'arc');
const cutLength = (reading: ReturnType<typeof readProgram>): number =>
  motionsOf(reading)
    .filter((m) => m.kind !== 'rapid')
    .reduce((sum, m) => sum + moveLength(m), 0);

/** Every value of every option, and what of it must be in the text (or must not). */
type Case = [choices: PostChoices, has: RegExp, hasNot?: RegExp];
const CASES: Readonly<Record<keyof PostChoices, Case[]>> = {
  unit: [
    [{ unit: 'mm' }, /G21/, /G20/],
    [{ unit: 'inch' }, /G20/, /G21/],
  ],
  decimals: [
    [{ decimals: 1 }, /X30\.5/, /\.\d\d/],
    [{ decimals: 5 }, /X30\.5/],
  ],
  lineNumbers: [
    [{ lineNumbers: { start: 10, step: 10 } }, /^N10 \(T\)\nN20 G17[\s\S]*\nN30 /],
    [{ lineNumbers: null }, /^\(T\)\nG17/, /N\d/],
  ],
  arcs: [
    [{ arcs: 'whole' }, /G3 X30\.5 Y10 I-10 J0/],
    [{ arcs: 'halves' }, /G3 X10\.5 I-10 J0/],
    [{ arcs: 'quarters' }, /G3 X20\.5 Y20 I-10 J0/],
    [{ arcs: 'quadrants' }, /G3 X20\.5 Y20 I-10 J0/],
  ],
  arcWords: [
    [{ arcWords: 'centre' }, /G3 .*I.*J/, /R/],
    [{ arcWords: 'radius' }, /G3 .*R10/, /[IJ]/],
  ],
  centres: [
    [{ centres: 'incremental' }, /I-10 J0/],
    [{ centres: 'absolute' }, /I20\.5 J10/],
  ],
  helix: [
    [{ helix: true }, /\nX10\.5 Z-3 I-10 J0/],
    [{ helix: false }, /G1 X30\.\d+ Y10\.\d+ Z-2\.\d+/],
  ],
  chordTolerance: [[{ helix: false, chordTolerance: 0.5 }, /G1 X2\d\.\d+ Y1\d\.\d+ Z-2\.\d+/]],
  repeat: [
    [{ repeat: true }, /G1 X12\.5 Y20 Z-3 F1200/],
    [{ repeat: false }, /G1 X12\.5 F1200/],
  ],
  blockLength: [[{ blockLength: 40 }, /T3 M6/, /.{41}/]],
  words: [
    [{ words: { blanks: false } }, /G1X12\.5F1200/, /G1 X/],
    [{ words: { point: 'always' } }, /G3 X30\.5 Y10\. I-10\. J0\. F1800\./],
    [{ words: { leadingZero: false } }, /G4 P\.5/, /P0\./],
    [{ words: { trailingZeros: true } }, /G1 X12\.500 F1200\.0/],
    [{ words: { implied: { whole: 4, zeros: 'all' } } }, /G1 X0012500 F1200/, /X\d+\./],
    [{ words: { implied: { whole: 4, zeros: 'leading dropped' } } }, /G1 X12500 F1200/, /X\d+\./],
    [{ words: { implied: { whole: 4, zeros: 'trailing dropped' } } }, /G1 X00125 F1200/, /X\d+\./],
  ],
  drilling: [
    [{ drilling: 'moves' }, /Z-5 F300/, /G8[012]/],
    [
      { drilling: 'cycles' },
      /G99 G81 X40 Y10 Z-5 R2 F300\nG80\n[\s\S]*G99 G82 X55 Y10 Z-5 R2 P0\.5 F300\nG80\n/,
    ],
  ],
  percent: [
    [{ percent: true, lineNumbers: { start: 1, step: 1 } }, /^%\nN1 [\s\S]*\nN\d+ M2\n%\n$/],
    [{ percent: false }, /^\(T\)/, /%/],
  ],
  dust: [
    [{ dust: 'M8' }, /S18000 M3 M8\n[\s\S]*M5 M9\n/],
    [{ dust: 'M7' }, /S18000 M3 M7\n[\s\S]*M5 M9\n/],
    [{ dust: null }, /S18000 M3\n/, /M[789]/],
  ],
  change: [
    [{ change: 'T M6' }, /\nT3 M6 \(cutter router-6\)\n/],
    [{ change: 'M6 T' }, /\nM6 T3 \(cutter router-6\)\n/],
    [{ change: 'T, M6' }, /\nT3\nM6 \(cutter router-6\)\n/],
    [{ change: 'T M6, M0' }, /\nT3 M6 \(cutter router-6\)\nM0\n/],
  ],
  end: [
    [{ end: 'M2' }, /\nM2\n$/],
    [{ end: 'M30' }, /\nM30\n$/],
  ],
};

describe('every option of a dialect is written as it says and reads back as the same cuts', () => {
  const usual = written({});
  it.each(
    Object.values(CASES)
      .flat()
      .map(([c, has, hasNot]) => [c, has, hasNot ?? null] as const),
  )('%o', (choices, has, hasNot) => {
    const { text, lineMoves, reading, dialect } = written(choices);
    expect(text).toMatch(has);
    if (hasNot) expect(text).not.toMatch(hasNot);
    expect(reading.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    const step = 10 ** -dialect.decimals * (dialect.unit === 'mm' ? 1 : 25.4);
    const last = new Map(motionsOf(reading).map((m) => [lineMoves[m.line - 1], m]));
    toolpath.moves.forEach((m, i) => {
      const read = last.get(i);
      // A cycle comes back up by itself.
      if (!('to' in m) || !read || dialect.drilling === 'cycles') return;
      for (const axis of ['x', 'y', 'z'] as const)
        expect(Math.abs(read.to[axis] - m.to[axis])).toBeLessThanOrEqual(step / 2 + 1e-9);
      if (m.kind !== 'rapid') expect(Math.abs((read.feed ?? 0) - m.feed)).toBeLessThan(3);
      expect(read.tool).toBe(i < 10 ? 3 : 5);
      expect(read.spindle).toBe(i < 10 ? 18_000 : 6000);
    });
    const chords = choices.chordTolerance ?? 0.01;
    expect(Math.abs(cutLength(reading) - cutLength(usual.reading))).toBeLessThan(40 * step + 10 * chords);
    expect(reading.moves.flatMap((m) => (m.kind === 'dwell' ? [m.seconds] : []))).toEqual([0.5]);
    expect(Math.min(...motionsOf(reading).map((m) => m.to.z))).toBeCloseTo(-5, 2);
  });

  it('a centre is absolute only for a reader that is told so', () => {
    const { text } = written({ centres: 'absolute' });
    expect(readProgram(text).diagnostics.some((d) => d.code === 'nc/arc-radius')).toBe(true);
  });

  it('no arc crosses a direction of the axes where arcs are parted at the quadrants', () => {
    const { reading } = written({ arcs: 'quadrants', decimals: 4 });
    const arcs = arcsOf(reading);
    expect(arcs.length).toBeGreaterThanOrEqual(9);
    for (const a of arcs) {
      const angle = (p: { x: number; y: number }) => Math.atan2(p.y - a.centre.y, p.x - a.centre.x);
      const middle = angle(a.from) + a.sweep / 2;
      const quadrant = Math.floor(middle / (Math.PI / 2));
      for (const end of [angle(a.from), angle(a.from) + a.sweep]) {
        expect(end / (Math.PI / 2)).toBeGreaterThan(quadrant - 1e-4);
        expect(end / (Math.PI / 2)).toBeLessThan(quadrant + 1 + 1e-4);
      }
    }
  });

  it('R is written only for arcs that it says well: none near half a turn, none of more', () => {
    const { reading } = written({ arcWords: 'radius' });
    expect(reading.diagnostics.map((d) => d.code)).not.toContain('nc/arc-radius-form');
    for (const a of arcsOf(reading))
      expect(Math.abs(a.sweep)).toBeLessThanOrEqual((165 / 180) * Math.PI + 1e-3);
  });

  it('cycles drill holes as they are planned too: down to the sheet and up at the feed for air', () => {
    const hole = (x: number, ...down: readonly (readonly [z: number, feed: number])[]) => [
      rapid(x, 10, 8),
      ...down.map(([z, feed]) => cut(x, 10, z, feed)),
    ];
    const moves = [
      ...hole(40, [1, 8000], [-5, 300], [8, 8000]),
      // Pecked, left as slowly as it was drilled, and left aslant: none of these is the cycle.
      ...hole(50, [1, 8000], [-2, 300], [1, 8000], [-1.5, 8000], [-5, 300], [8, 8000]),
      ...hole(60, [-5, 300], [8, 300]),
      ...hole(70, [-5, 300]),
      cut(71, 10, 8, 8000),
    ];
    const text = (drilling: 'moves' | 'cycles') => {
      const program = writeProgram(
        { kind: 'toolpath', board: 'b', moves },
        defineDialect(withChoices(base, { drilling })),
        { title: '' },
      );
      if (!program.ok) throw new Error(program.diagnostics[0]!.message);
      return program.value.text;
    };
    const cycles = text('cycles');
    expect(cycles.match(/G8[123].*/g)).toEqual(['G81 X40 Y10 Z-5 R8 F300']);
    const ends = (t: string) => motionsOf(readProgram(t)).map((m) => m.to);
    expect(ends(cycles)).toEqual(ends(text('moves')).filter((p) => !(p.x === 40 && p.z === 1)));
  });

  it('cycles drill the same holes with the same dwell, one hole a block', () => {
    const { reading, text } = written({ drilling: 'cycles' });
    const bottoms = motionsOf(reading).filter((m) => m.kind === 'linear' && m.to.z === -5);
    expect(bottoms.map((m) => [m.to.x, m.to.y, m.from.z, m.feed])).toEqual([
      [40, 10, 2, 300],
      [55, 10, 2, 300],
    ]);
    const at = reading.moves.findIndex((m) => m.kind === 'dwell');
    expect(reading.moves[at - 1]).toMatchObject({ kind: 'linear', to: { x: 55, z: -5 } });
    expect(text.match(/G8[12]/g)).toHaveLength(2);
    // Whatever is cut after a cycle says its motion and feed anew.
    expect(text).toMatch(/G80\nG0 X55 Y10 Z2\n/);
  });
});

describe('digits without a point (formats as in EIA RS-274-D; from memory)', () => {
  // 12.5 and −0.254 in the format 4.3.
  it.each([
    ['all', '0012500', '-0000254'],
    ['leading dropped', '12500', '-254'],
    ['trailing dropped', '00125', '-0000254'],
  ] as const)('zeros %s', (zeros, one, other) => {
    const post = defineDialect(withChoices(base, { words: { implied: { whole: 4, zeros } } }));
    const path: Toolpath = { kind: 'toolpath', board: 'b', moves: [rapid(12.5, -0.254, 0)] };
    const program = writeProgram(path, post, { title: '' });
    expect(program.ok && program.value.text).toMatch(new RegExp(`X${one} Y${other}\n`));
    const { meaning } = post.dialect;
    const read = (words: string) =>
      motionsOf(readProgram(`G21 G0 ${words}\nM2`, meaning ? { meaning } : {})).at(-1)?.to;
    expect(read(`X${one} Y${other}`)).toMatchObject({ x: 12.5, y: -0.254 });
    // A number that has a point means what it says.
    expect(read('X12.5 Y+7.')).toMatchObject({ x: 12.5, y: 7 });
  });

  it('more digits than the format has, or fewer where all are written, are a fault', () => {
    const meaning = { implied: { whole: 2, decimals: 3, zeros: 'all' as const } };
    for (const digits of ['123456', '1234'])
      expect(readProgram(`G21 G0 X${digits}\nM2`, { meaning }).diagnostics.map((d) => d.code)).toEqual([
        'nc/bad-value',
      ]);
    expect(readProgram('G21 G0 X12345\nM2', { meaning }).diagnostics).toEqual([]);
  });

  it('a coordinate that the format has no room for is refused, not cut short', () => {
    const post = defineDialect(
      withChoices(base, { words: { implied: { whole: 2, zeros: 'leading dropped' } } }),
    );
    const path: Toolpath = { kind: 'toolpath', board: 'b', moves: [rapid(99.9996, 0, 0)] };
    const program = writeProgram(path, post, { title: '' });
    expect(program.diagnostics.map((d) => d.code)).toEqual(['post/number-too-great']);
    expect(() =>
      writeProgram(
        path,
        { ...post, dialect: { ...post.dialect, words: { implied: { whole: 0, zeros: 'all' } } } },
        { title: '' },
      ),
    ).toThrow(RangeError);
  });
});

describe('choices that make no sense are refused by name', () => {
  const known = Object.keys(CASES) as (keyof PostChoices)[];
  it.each<[string, unknown]>([
    ['unit', 'cm'],
    ['decimals', 2.5],
    ['lineNumbers', { start: 0 }],
    ['arcs', 'thirds'],
    ['arcWords', 'both'],
    ['centres', 'relative'],
    ['helix', 'yes'],
    ['chordTolerance', 0],
    ['repeat', 1],
    ['blockLength', 0],
    ['words', { zeros: true }],
    ['words', { implied: { whole: 9, zeros: 'all' } }],
    ['drilling', 'pecks'],
    ['percent', 'twice'],
    ['dust', 'M10'],
    ['change', 'M6'],
    ['end', 'M99'],
  ])('%s: %o', (name, value) =>
    expect(() => assertChoices('ourPost', { [name]: value }, known)).toThrow(
      new RegExp(`^ourPost: ${name} is .*; it must be `),
    ),
  );
  it('an option that the dialect does not have, with those that it has', () => {
    expect(() =>
      assertChoices('ourPost', { decimalz: 3 }, ['unit', 'decimals'], { dwell: ['seconds'] }),
    ).toThrow("ourPost: it has no option 'decimalz'; its options are unit, decimals, dwell");
    expect(() => assertChoices('ourPost', { arcs: 'whole' }, ['unit'])).toThrow(RangeError);
    expect(() => assertChoices('ourPost', { dwell: 'hours' }, [], { dwell: ['seconds'] })).toThrow(
      RangeError,
    );
    expect(() => assertChoices('ourPost', { unit: undefined, decimals: 3 }, known)).not.toThrow();
  });
});
