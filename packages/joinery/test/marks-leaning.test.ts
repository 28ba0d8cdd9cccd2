import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { frameOf, toWorld, type Vec } from '../src/frame.js';
import {
  defaultAllowances,
  dryAssemble,
  findJoints,
  findMarks,
  formatMaster,
  readMaster,
  refitMaster,
} from '../src/index.js';
import { valueIn } from './demo.js';
import { leaningPiece, slotFor } from './leaning-piece.js';

const DEGREES = 180 / Math.PI;

/** The master with nothing that says what follows what. */
function stripped(master: Master): Master {
  const bare = <T extends { on?: unknown }>({ on: _, ...rest }: T) => rest;
  const loop = (l: Master['parts'][number]['outline']) => ({ ...l, segments: l.segments.map(bare) });
  const parts = master.parts.map((p) => ({
    ...p,
    frame: bare(p.frame),
    outline: loop(p.outline),
    through: p.through.map((c) => ({ ...c, loop: loop(c.loop) })),
  }));
  return { ...master, marks: [], parts } as Master;
}

/** The corners of a contour on face n− in the world, in the drawn order. */
function cornersOf(master: Master, part: string, contour?: string): Vec[] {
  const p = master.parts.find((q) => q.id === part)!;
  const l = contour === undefined ? p.outline : p.through.find((c) => c.id === contour)!.loop;
  return l.segments.map((s) => toWorld(frameOf(p), { x: s.to[0], y: s.to[1] }, 0));
}

const most = (a: readonly Vec[], b: readonly Vec[]): number =>
  Math.max(...a.map((v, i) => Math.hypot(v[0] - b[i]![0], v[1] - b[i]![1], v[2] - b[i]![2])));

/** The corners of S's outline that lie on its shoulders. */
const SHOULDERS = [0, 1, 4, 5];

describe('marks found for two plates that lean', () => {
  const angles = [40, 53.13, 65, 82, 101, 125, 139];
  const pairs = [
    [18, 18],
    [15, 9],
    [6.3, 11],
  ] as const;

  it.each(angles)('keep the joint at %d degrees on any sheets, as the drawn ones do', (degrees) => {
    for (const [slotted, passing] of pairs)
      for (const hold of ['n-', 'n+', 'mid'] as const) {
        const angle = degrees / DEGREES;
        const drawn = leaningPiece({ angle, slotted, passing });
        const found = findMarks(
          stripped({ ...drawn, parts: drawn.parts.map((p) => (p.id === 'S' ? { ...p, hold } : p)) }),
        );
        expect(found.questions).toEqual([]);
        expect(found.left).toEqual([]);
        expect(readMaster(formatMaster(found.master), 'found').diagnostics).toEqual([]);
        for (const [du, ds] of [
          [-0.6, -0.6],
          [0.7, 0.7],
          [0.5, -0.8],
          [-0.4, 1.1],
        ] as const) {
          const thicknesses = { U: slotted + du, S: passing + ds };
          const ours = valueIn(refitMaster(found.master, { thicknesses }));
          const widths = cornersOf(ours, 'U', 'U.m1').map((c) => c[0]);
          expect(Math.max(...widths) - Math.min(...widths)).toBeCloseTo(
            slotFor({ angle, slotted: thicknesses.U, passing: thicknesses.S }),
            3,
          );
          expect(valueIn(dryAssemble(ours)).interference.total).toBe(0);
          const { contacts } = valueIn(findJoints(ours, defaultAllowances('snug')));
          const touching = contacts.map((k) => k.edge);
          expect(touching).toEqual(
            expect.arrayContaining(['U.m1/e1', 'U.m1/e3', 'S.outline/e1', 'S.outline/e5']),
          );
          if (hold !== 'mid') continue;
          const theirs = valueIn(refitMaster(drawn, { thicknesses }));
          expect(most(cornersOf(ours, 'U', 'U.m1'), cornersOf(theirs, 'U', 'U.m1'))).toBeLessThan(0.001);
          const shoulders = (m: Master) => SHOULDERS.map((k) => cornersOf(m, 'S')[k]!);
          expect(most(shoulders(ours), shoulders(theirs))).toBeLessThan(0.001);
          // Nothing but the shoulder tells where the plate is: its ends go along, so that it stays as long as it was.
          const long = (m: Master): number => {
            const x = m.parts[1]!.outline.segments.map((s) => s.to[0]);
            return Math.max(...x) - Math.min(...x);
          };
          expect(long(ours)).toBeCloseTo(long(drawn), 3);
        }
      }
  });

  it('carry the normal of the plate that leans, and the shares of both thicknesses', () => {
    const { master } = findMarks(
      stripped(leaningPiece({ angle: Math.atan2(4, 3), slotted: 18, passing: 15 })),
    );
    const slot = master.parts[0]!.through[0]!.loop.segments;
    const marks = new Map(master.marks.map((m) => [m.id, m]));
    const [right, left] = [slot[1]!, slot[3]!].map((s) => marks.get(String(s.on))!);
    for (const m of [right!, left!]) expect(m.normal?.map((c) => +c.toFixed(9) + 0)).toEqual([-0.8, 0, 0.6]);
    expect(left!.terms).toEqual({ S: 0.5 });
    expect(right!.terms.S).toBe(-0.5);
    expect(right!.terms.U).toBeCloseTo(-0.6, 9);
    expect(master.parts[0]!.outline.segments.every((s) => s.on === undefined)).toBe(true);
  });

  it('are not given to a wall that touches nothing, which is named', () => {
    const drawn = stripped(leaningPiece({ angle: 1.1, slotted: 18, passing: 15, wider: 5 }));
    expect(findMarks(drawn).left).toEqual([{ part: 'S', edges: ['U.m1/e3'] }]);
  });

  it('follow a wall before which a small gap is drawn, so that the gap stays', () => {
    const piece = { angle: 1.1, slotted: 18, passing: 15, wider: 1.5 };
    const found = findMarks(stripped(leaningPiece(piece)));
    expect(found.found.find((f) => f.edge === 'U.m1/e3')?.reason).toBe('gap');
    const ours = valueIn(refitMaster(found.master, { thicknesses: { U: 17.2, S: 15.9 } }));
    const x = cornersOf(ours, 'U', 'U.m1').map((c) => c[0]);
    expect(Math.max(...x) - Math.min(...x)).toBeCloseTo(
      slotFor({ angle: 1.1, slotted: 17.2, passing: 15.9 }) + 1.5,
      3,
    );
  });
});
