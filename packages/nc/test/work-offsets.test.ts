import type { Move, Toolpath } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { readProgram } from '../src/read/index.js';
import { writeProgram } from '../src/write/index.js';
import { plainPost } from './plain-post.js';

const from = 'sheet-1/001 A.h';
const origins = new Map([
  [54, { x: 0, y: 0, z: 0 }],
  [55, { x: 0, y: 0, z: 18 }],
]);
const line = (x: number, y: number, z: number): Move => ({
  kind: 'linear',
  to: { x, y, z },
  feed: 900,
  from,
});
const moves: Move[] = [
  { kind: 'rapid', to: { x: 0, y: 0, z: 28 }, from },
  { kind: 'offset', code: 55, z: 18, from },
  line(0, 0, 10),
  { kind: 'circular', to: { x: 10, y: 0, z: 8 }, centre: { x: 5, y: 0 }, turn: 'cw', feed: 900, from },
  line(10, 0, 28),
  { kind: 'pause', text: 'try the plug', from },
  { kind: 'offset', code: 54, z: 0, from },
  line(20, 0, -0.2),
];
const path = (m: readonly Move[]): Toolpath => ({ kind: 'toolpath', board: 'sheet-1', moves: m });
const written = (m = moves): string => {
  const out = writeProgram(path(m), plainPost({}), { title: 'offsets' });
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.text;
};
const endsOf = (text: string, of: typeof origins | null = origins) => {
  const { moves: read, diagnostics } = readProgram(text, of === null ? {} : { origins: of });
  const ends = read.flatMap((m) => ('to' in m ? [m.to] : []));
  return { ends, read, errors: diagnostics.filter((d) => d.level === 'error').map((d) => d.code) };
};

describe('work offsets', () => {
  it('are written with their code and count heights from their own zero', () => {
    const lines = written().split('\n');
    const at = lines.indexOf('G55');
    // By hand: 10 above the bed is 8 below the top of a sheet of 18.
    expect(lines[at + 1]).toBe('G1 X0 Y0 Z-8 F900');
    expect(lines).toContain('M0 (try the plug)');
    expect(lines).toContain('G54');
  });

  it('read back as the same places in one frame', () => {
    const { ends, errors } = endsOf(written());
    expect(errors).toEqual([]);
    const wanted = moves.flatMap((m) => ('to' in m ? [m.to] : []));
    // After the pause the cutter is first brought back to where it stood: two rapids more, as after a change of cutter.
    for (const to of wanted) expect(ends).toContainEqual(to);
    expect(ends.at(-1)).toEqual({ x: 20, y: 0, z: -0.2 });
  });

  it('cut as deep from the top whatever the sheet, and as deep from the bed', () => {
    const thick = new Map(origins).set(55, { x: 0, y: 0, z: 18.3 });
    const { ends } = endsOf(written(), thick);
    expect(ends.some((p) => Math.abs(p.z - 10.3) < 1e-9)).toBe(true);
    expect(ends.at(-1)!.z).toBeCloseTo(-0.2, 9);
  });

  it('are in one frame also where the second comes first', () => {
    const { ends, errors } = endsOf('G21 G90 G55\nG0 Z5\nG0 X0 Y0\nG54\nG1 Z10 F100\nM2\n');
    expect(errors).toEqual([]);
    expect(ends[0]!.z).toBe(23);
    expect(ends.at(-1)!.z).toBe(10);
  });

  it('are refused where nothing says how they lie to each other', () => {
    expect(endsOf(written(), null).errors).not.toEqual([]);
    expect(endsOf(written(), new Map([[54, { x: 0, y: 0, z: 0 }]])).errors).not.toEqual([]);
  });

  it('take no numbers but those of G54 to G59', () => {
    expect(() => readProgram('M2\n', { origins: new Map([[60, { x: 0, y: 0, z: 0 }]]) })).toThrow(RangeError);
    expect(() => written([{ kind: 'offset', code: 53, z: 0, from }])).toThrow(RangeError);
  });
});

describe('a pause', () => {
  it('stops the program, and everything is said anew after it', () => {
    const text = written();
    expect(endsOf(text).read.filter((m) => m.kind === 'stop')).toHaveLength(1);
    const after = text.split('\n').slice(text.split('\n').indexOf('M0 (try the plug)'));
    expect(after.slice(1, 4)).toEqual(['G54', 'G0 Z28', 'X10 Y0']);
  });
});
