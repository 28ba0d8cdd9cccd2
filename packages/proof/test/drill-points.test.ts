import { loadClip } from '@haunch/geometry';
import type { Cutter, Hole, Pocket, Proof } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { proveProgram } from '../src/index.js';
import { contour, inputFor, lines, machine, plate, router, swap, tagged, text } from './plate.js';

const clip = await loadClip();
const drill: Cutter = {
  ...router,
  id: 'drill-5',
  number: 2,
  kind: 'drill',
  diameter: 5,
  fluteLength: 40,
  depthPerPass: 30,
  pointAngle: (118 * Math.PI) / 180,
};

/** The sound program with one hole of 5 mm drilled at (60, 60) first, its tip down to `tip`. */
const drilled = (tip: number): string[] =>
  swap(
    lines(),
    'T1 M6',
    'T2 M6',
    'S4000 M3',
    'G0 Z28',
    'G0 X60 Y60',
    `G1 Z${tip} F400`,
    'G1 Z28 F4000',
    'M5',
    'T1 M6',
  );
const holed = (depth: Hole['depth']) => ({
  ...plate,
  holes: [{ id: 'A.a', centre: { x: 60, y: 60 }, diameter: 5, face: 'n+' as const, depth }],
});
function failing(tip: number, depth: Hole['depth'], spoilboard = 2): string[] {
  const out = proveProgram(
    inputFor(clip, text(drilled(tip)), {
      items: [{ item: 'A', piece: 1, part: holed(depth) }],
      cutters: [router, drill],
      machine: { ...machine, spoilboard },
    }),
  );
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  return failed(out.value.proof);
}
const failed = (p: Proof): string[] => p.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);

// The point of a drill of 5 mm with 118° is 2.5 / tan 59° = 1.5022 mm long, by hand.
describe('a hole drilled by a drill with a point', () => {
  it('is as deep as its full diameter is', () => {
    expect(failing(8 - 1.5022, 10)).toEqual([]);
    expect(failing(8, 10)).toContain('P10');
    expect(failing(8 - 1.5022 - 0.1, 10)).toContain('P10');
  });

  it('is through where its full diameter is, and no deeper into the bed than is allowed', () => {
    expect(failing(-1.7, 'through')).toEqual([]);
    // The point alone has come through: the hole is narrower than its diameter at the underside.
    expect(failing(-0.4, 'through')).toContain('P09');
    expect(failing(-1.7, 'through', 0.5)).toContain('P06');
  });

  it('is not blind where the point has come out of the other face', () => {
    expect(failing(-0.0022, 16.5)).toContain('P10');
    expect(failing(0.9978, 15.5)).toEqual([]);
  });
});

describe('a recess that runs out over the part’s edge', () => {
  /** The recess 56 … 76 × 50 … 60, 8 deep, cut at z 10 by two strokes of 6 mm, each 7.5 mm over the edge at y 50. */
  const recess: Pocket = {
    ...contour('A.h', tagged('A.h', 60, 50, 70, 62)),
    face: 'n+',
    depth: 8,
  };
  const cut = (low: number): string[] =>
    swap(
      lines(),
      'G0 X86 Y78',
      `G0 X63 Y${low}`,
      'G1 Z18.2 F2000',
      'G1 Y59 Z17.5 F1500',
      `G1 Y${low} Z16.8`,
      ...[16.1, 15.4, 14.7, 14, 13.3, 12.6, 11.9, 11.2, 10.5, 10].map(
        (z, i) => `G1 Y${i % 2 === 0 ? 59 : low} Z${z}`,
      ),
      'G1 Y59 F3000',
      'G1 X67',
      `G1 Y${low}`,
      'G1 X63',
      'G1 Z28 F4000',
      'G0 X86 Y78',
    );
  const judge = (program: readonly string[]): string[] => {
    const out = proveProgram(
      inputFor(clip, text(program), {
        items: [{ item: 'A', piece: 1, part: { ...plate, pockets: [recess] } }],
      }),
    );
    if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
    return failed(out.value.proof);
  };

  it('passes where the cutter ran out over the edge', () => {
    expect(judge(cut(46.5))).toEqual([]);
  });

  it('is not cut where the cutter stopped at the edge', () => {
    expect(judge(cut(53)).some((r) => r === 'P09' || r === 'P10')).toBe(true);
  });

  it('is a gouge where the cutter went through its closed end', () => {
    expect(judge(cut(46.5).map((l) => l.replace('Y59', 'Y60')))).toContain('P08');
  });
});
