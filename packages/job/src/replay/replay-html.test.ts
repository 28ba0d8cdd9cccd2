import { rectangleRing } from '@haunch/geometry';
import type { Board, Cutter, Machine, Part } from '@haunch/model';
import { timeline } from '@haunch/proof';
import { describe, expect, it } from 'vitest';
import { JobMachineSchema } from '../job-schema.js';
import { replayHtml } from './replay-html.js';
import { replayMoves } from './replay-moves.js';

const {
  post: _,
  postOptions: __,
  ...machine
} = JobMachineSchema.parse({}) as Machine & {
  post: string;
  postOptions: unknown;
};
const cutters: Cutter[] = [
  {
    id: 'router-6',
    number: 1,
    kind: 'router',
    diameter: 6,
    flutes: 2,
    fluteLength: 25,
    upCutLength: null,
    rpm: 18_000,
    chipLoad: 0.1,
    depthPerPass: 9,
    rampAngle: 0.1,
  },
];
const text = [
  '(plate <1>)',
  'G21 G90',
  'T1 M6',
  'S18000 M3',
  'G0 Z28',
  'X10 Y10',
  'G1 Z-0.3 F1000',
  'G3 X20 Y20 I0 J10 F3000',
  'G0 Z28',
  'M5',
  'M2',
].join('\n');
const board: Board = {
  id: 'sheet-1',
  stock: 'ply',
  outline: rectangleRing(0, 0, 100, 50),
  thickness: 18,
  readings: [{ thickness: 18 }],
  grain: null,
  keepOuts: [],
};
const part: Part = {
  kind: 'part',
  id: 'A',
  name: 'plate',
  thickness: 18,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: {
    id: 'A.outline',
    ring: rectangleRing(20, 20, 60, 40),
    bare: rectangleRing(20, 20, 60, 40),
    reliefs: [],
  },
  through: [],
  pockets: [],
  holes: [],
  from: [],
};
const dataOf = (page: string) =>
  JSON.parse(/<script type="application\/json" id="data">(.*?)<\/script>/s.exec(page)![1]!);

describe('a replay', () => {
  const input = { title: 'A <b> "c"', text, board, items: [{ item: 'A', part }], cutters, machine };

  it('takes its moves from the text, line by line', () => {
    const data = dataOf(replayHtml(input));
    expect(data.moves.map((m: number[]) => m[3])).toEqual([5, 6, 7, 8, 9]);
    // An arc of three quarters counter-clockwise round (10, 20) would end at the left; a quarter ends at (20, 20).
    const arc = data.moves[3];
    expect(arc.slice(0, 3)).toEqual([20, 20, -0.3]);
    expect(arc[5]).toBe(2);
    expect(arc.slice(7, 9)).toEqual([10, 20]);
    expect(arc[9]).toBeCloseTo(Math.PI / 2, 4);
    expect(data.moves[0][5]).toBe(0);
    expect(data.moves[2][6]).toBe(3);
  });

  it('shows what counts in the second work offset at its own height', () => {
    const twoZeros = { ...machine, zZero: 'bed' as const, workOffset: 1, secondOffset: 2 };
    const program = [
      'G21 G90 G54',
      'G0 X0 Y0 Z30',
      'G55',
      'G0 Z12',
      'G1 Z-5 F1000',
      'G54',
      'G0 Z30',
      '',
    ].join('\n');
    const heights = (m: typeof twoZeros | typeof machine) =>
      dataOf(replayHtml({ ...input, text: program, machine: m })).moves.map((s: number[]) => [s[3], s[2]]);
    // Z zero of the second offset is the top, 18 mm above the bed: 5 mm deep are 13 mm above it.
    expect(heights(twoZeros)).toEqual([
      [2, 30],
      [4, 30],
      [5, 13],
      [7, 30],
    ]);
  });

  it('keeps the time of the machine: no move earlier than the one before, a slow one as long as its feed says', () => {
    const timed = timeline({ text, cutters, machine, top: 18 });
    expect(timed.every((t, i) => i === 0 || t.until >= timed[i - 1]!.until)).toBe(true);
    const plunge = timed[2]!.until - timed[1]!.until;
    // 28.3 mm at 1000 mm/min are 1.698 s; starting and stopping at 1000 mm/s² takes a little more.
    expect(plunge).toBeGreaterThan(1.698);
    expect(plunge).toBeLessThan(1.75);
    const half = text.replace('F1000', 'F500');
    const slower = timeline({ text: half, cutters, machine, top: 18 });
    expect(slower[2]!.until - slower[1]!.until).toBeGreaterThan(1.9 * plunge);
  });

  it('shows the whole text, and nothing in it becomes markup', () => {
    const page = replayHtml(input);
    expect(dataOf(page).lines).toEqual(text.split('\n'));
    expect(page).toContain('A &lt;b&gt; &quot;c&quot;');
    expect(page).not.toContain('plate <1>');
  });

  it('is a page of its own: nothing is fetched', () => {
    expect(replayHtml(input)).not.toMatch(/https?:|src=|@import|url\(/);
  });

  it('stands still with a program without motions', () => {
    expect(replayMoves([])).toEqual({ start: [0, 0, 0], moves: [] });
    expect(dataOf(replayHtml({ ...input, text: 'M2' })).moves).toEqual([]);
  });
});
