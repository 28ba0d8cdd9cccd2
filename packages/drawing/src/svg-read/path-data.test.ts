import fc from 'fast-check';
import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { cubicAt } from '../curves/cubic.js';
import type { Curve, CurveRun } from './curve-run.js';
import { arcAt } from './elliptical-arc.js';
import { readPathData } from './path-data.js';

function runs(text: string): readonly CurveRun[] {
  const r = readPathData(text);
  if (!('runs' in r)) throw new Error(`${r.expected} expected at ${r.at} of ${text}`);
  return r.runs;
}

const ends = (run: CurveRun) => [run.start, ...run.curves.map((c) => c.to)].map((p) => [p.x, p.y]);

describe('path data (SVG 2, 9.3)', () => {
  it('reads every command, absolute and relative, to the same places', () => {
    const absolute = runs(
      'M10 20 L30 40 H50 V60 C60 60 70 70 80 80 S90 90 100 80 Q110 70 120 80 T140 80 A5 5 0 0 1 150 80 Z',
    );
    const relative = runs(
      'm10 20 l20 20 h20 v20 c10 0 20 10 30 20 s10 10 20 0 q10 -10 20 0 t20 0 a5 5 0 0 1 10 0 z',
    );
    expect(relative).toEqual(absolute);
    expect(absolute.length).toBe(1);
    expect(ends(absolute[0]!)).toEqual([
      [10, 20],
      [30, 40],
      [50, 40],
      [50, 60],
      [80, 80],
      [100, 80],
      [120, 80],
      [140, 80],
      [150, 80],
    ]);
    expect(absolute[0]!.closed).toBe(true);
  });

  it('repeats commands, and goes on with lines after the first pair of a move', () => {
    expect(runs('M1 2 3 4 5 6')).toEqual(runs('M1 2L3 4L5 6'));
    expect(runs('m1 2 3 4 5 6z')).toEqual(runs('M1 2L4 6L9 12Z'));
    expect(runs('M0 0H1 2 3V4 5')).toEqual(runs('M0 0H1H2H3V4V5'));
    expect(runs('M0 0Q1 1 2 0 3-1 4 0')).toEqual(runs('M0 0Q1 1 2 0Q3 -1 4 0'));
  });

  it('reads numbers as tightly as the grammar allows', () => {
    expect(runs('M.5.5-1-1+2e1,3E-1')).toEqual(runs('M 0.5 0.5 L -1 -1 L 20 0.3'));
    expect(runs('M0 0a5 5 0 0110 0')).toEqual(runs('M0 0 a 5 5 0 0 1 10 0'));
    expect(runs('M0,0L09,010')).toEqual(runs('M0 0L9 10'));
    expect(runs('\n M 0 0 \t L 1 , 1 \r\n')).toEqual(runs('M0 0L1 1'));
  });

  it('goes on from where a closed subpath began', () => {
    const [first, second] = runs('M10 10H20V20Z l5 0');
    expect([first!.closed, second!.closed]).toEqual([true, false]);
    expect(ends(second!)).toEqual([
      [10, 10],
      [15, 10],
    ]);
    expect(runs('M1 1Z M2 2 M3 3L4 4').length).toBe(1);
  });

  it('mirrors the last control point for S after C, and takes the pen’s place otherwise', () => {
    const c = (text: string) => runs(text)[0]!.curves.at(-1) as Curve & { kind: 'cubic' };
    expect(c('M0 0C0 10 10 10 10 0S20 -10 20 0').c1).toEqual({ x: 10, y: -10 });
    expect(c('M0 0L10 0S20 -10 20 0').c1).toEqual({ x: 10, y: 0 });
    expect(c('M0 0Q5 10 10 0S20 -10 20 0').c1).toEqual({ x: 10, y: 0 });
    expect(c('M0 0Q5 10 10 0T20 0').c2.x).toBeCloseTo(15 + 5 / 3, 12);
    expect(c('M0 0C1 1 5 10 10 0T20 0')).toMatchObject({ c1: { x: 10, y: 0 } });
  });

  it.each<[string, number, RegExp]>([
    ['L 1 1', 0, /begins/],
    ['M 1', 3, /number/],
    ['M 1 1 L 2', 9, /number/],
    ['M 1 1 L 2 x', 10, /number/],
    ['M 1 1 X', 6, /command/],
    ['M 1 1, L 2 2', 7, /number/],
    ['M 1 1 L 2 2,', 12, /number/],
    ['M 0 0 A 5 5 0 2 1 9 9', 14, /flag/],
    ['M 0 0 L NaN 1', 8, /number/],
    ['M 0 0 L 1e999 1', 8, /size/],
    ['M 0 0 Z 5', 8, /command/],
    ['M 0 0 r 1 2', 6, /command/],
    ['M 0 0 \u0130 1', 6, /command/],
  ])('says where %s is wrong', (text, at, expected) => {
    const r = readPathData(text);
    expect(r).toMatchObject({ at });
    expect((r as { expected: string }).expected).toMatch(expected);
  });

  it('draws nothing for no data', () => {
    for (const text of ['', '  ', 'none', 'M1 1', 'M1 1Z']) expect(runs(text)).toEqual([]);
  });

  it('takes time in proportion to the length of the data, and no stack', () => {
    const many = `M0 0L${'1 2 '.repeat(200_000)}`;
    expect(runs(many)[0]!.curves.length).toBe(200_000);
    expect(readPathData(`M0 0L${'1 2 '.repeat(200_000)}x`)).toMatchObject({ at: 800_005 });
  });
});

/** Points along a piece, by what kind of piece it is. */
function along(from: { x: number; y: number }, c: Curve, t: number): { x: number; y: number } {
  if (c.kind === 'line') return { x: from.x + (c.to.x - from.x) * t, y: from.y + (c.to.y - from.y) * t };
  if (c.kind === 'cubic') return cubicAt([from, c.c1, c.c2, c.to], t);
  return arcAt(c.arc, c.arc.sweep * t);
}

/** Every piece at its ends and in its middle. */
const course = (all: readonly CurveRun[]): number[][] =>
  all.flatMap((r) => {
    let from = r.start;
    return r.curves.flatMap((c) => {
      const points = [0, 0.5, 1].map((t) => along(from, c, t));
      from = c.to;
      return points.map((p) => [p.x, p.y]);
    });
  });

// svgpath is a separate implementation of the same grammar; it writes shorthands out and makes all absolute.
it('draws as a second reader of the grammar writes the same data out', () => {
  const n = fc.integer({ min: -99, max: 99 }).map((v) => v / 4);
  const list = (count: number) => fc.array(n, { minLength: count, maxLength: count });
  const arc = fc
    .tuple(
      fc.integer({ min: 1, max: 60 }),
      fc.integer({ min: 1, max: 60 }),
      n,
      fc.constantFrom(0, 1),
      fc.constantFrom(0, 1),
      n,
      n,
    )
    .map((a) => [...a]);
  const command = fc.oneof(
    ...(
      [
        ['M', 2],
        ['L', 2],
        ['H', 1],
        ['V', 1],
        ['C', 6],
        ['S', 4],
        ['Q', 4],
        ['T', 2],
        ['Z', 0],
      ] as const
    ).map(([c, k]) =>
      fc.tuple(fc.constantFrom(c, c.toLowerCase()), list(k)).map(([w, v]) => `${w}${v.join(' ')}`),
    ),
    fc.tuple(fc.constantFrom('A', 'a'), arc).map(([w, v]) => `${w}${v.join(',')}`),
  );
  fc.assert(
    fc.property(fc.array(command, { minLength: 1, maxLength: 12 }), (commands) => {
      const text = `M 3 4 ${commands.join(' ')}`;
      const reference = svgpath(text) as ReturnType<typeof svgpath> & { readonly err: string };
      expect(reference.err).toBe('');
      const written = reference.abs().unshort().toString();
      const [a, b] = [course(runs(text)), course(runs(written))];
      expect(a.length).toBe(b.length);
      a.forEach((p, i) => {
        expect(Math.hypot(p[0]! - b[i]![0]!, p[1]! - b[i]![1]!)).toBeLessThan(1e-6);
      });
    }),
    { numRuns: 300 },
  );
});
