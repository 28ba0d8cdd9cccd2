import { rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contourOf, inputOf, MACHINE, partOf } from '../test/workshop.js';
import { type Plan, planBoard } from './index.js';

const PART = partOf('A', rectangleRing(40, 40, 340, 240), {
  through: [contourOf('A.o', rectangleRing(90, 80, 190, 180))],
  pockets: [{ ...contourOf('A.p', rectangleRing(230, 80, 300, 140)), face: 'n+', depth: 6 }],
  holes: [
    { id: 'A.b', centre: { x: 60, y: 60 }, diameter: 5, face: 'n+', depth: 10 },
    { id: 'A.t', centre: { x: 320, y: 60 }, diameter: 5, face: 'n+', depth: 'through' },
  ],
});

const planOn = (machine: Partial<typeof MACHINE & { secondOffset: number }>): Plan => {
  const plan = planBoard(inputOf([PART], { machine: { ...MACHINE, ...machine } }));
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  return plan.value;
};

/** How deep each step goes below the top of a sheet `error` thicker than it was measured, its zeros set on the sheet and the bed as they lie. */
function depthsOn(plan: Plan, zZero: 'top' | 'bed', error: number): Map<string, number> {
  const depths = new Map<string, number>();
  let fromTop = zZero === 'top';
  for (const m of plan.toolpath.moves) {
    if (m.kind === 'offset') fromTop = (m.z === 0) === (zZero === 'top');
    if (m.kind !== 'linear' && m.kind !== 'circular') continue;
    const nominalTop = zZero === 'bed' ? 18 : 0;
    const depth = nominalTop - m.to.z + (fromTop ? 0 : error);
    depths.set(m.from, Math.max(depth, depths.get(m.from) ?? -Infinity));
  }
  return depths;
}

describe('from where depths are measured', () => {
  it('says of every step what a thicker or thinner sheet does to it, with one zero or two', () => {
    const any = fc.record({
      zZero: fc.constantFrom('top' as const, 'bed' as const),
      two: fc.boolean(),
      error: fc
        .integer({ min: -50, max: 50 })
        .filter((e) => e !== 0)
        .map((e) => e / 100),
    });
    fc.assert(
      fc.property(any, ({ zZero, two, error }) => {
        const plan = planOn({ zZero, ...(two ? { secondOffset: 2 } : {}) });
        const [measured, real] = [depthsOn(plan, zZero, 0), depthsOn(plan, zZero, error)];
        for (const { id, reference, kind, feature } of plan.workplan.steps) {
          const through = kind.endsWith('profile') || feature === 'A.t';
          // What a through cut leaves in the bed; what a recess has below the top.
          const wanted = { deeper: error, 'the same': 0, shallower: -error };
          const change = real.get(id)! - measured.get(id)! - (through ? error : 0);
          expect(change).toBeCloseTo(wanted[reference!.thicker], 9);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('is the top for what has a depth, and the bed for what goes through, on a machine with both zeros', () => {
    for (const zZero of ['top', 'bed'] as const) {
      const plan = planOn({ zZero, secondOffset: 3 });
      const from = Object.fromEntries(plan.workplan.steps.map((s) => [s.feature, s.reference]));
      const top = { from: 'top', thicker: 'the same' };
      const bed = { from: 'bed', thicker: 'the same' };
      expect(from).toEqual({ 'A.b': top, 'A.t': bed, 'A.p': top, 'A.o': bed, A: bed });
      const codes = new Set(plan.toolpath.moves.flatMap((m) => (m.kind === 'offset' ? [m.code] : [])));
      expect(codes).toEqual(new Set([54, 56]));
    }
    expect(planOn({}).toolpath.moves.some((m) => m.kind === 'offset')).toBe(false);
  });

  it('needs two offsets that are not the same', () => {
    const plan = planBoard(inputOf([PART], { machine: { ...MACHINE, secondOffset: 1 } }));
    expect(plan.diagnostics.map((d) => d.code)).toEqual(['plan/bad-value']);
  });
});
