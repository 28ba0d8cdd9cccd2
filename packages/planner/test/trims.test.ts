import { rectangleRing } from '@haunch/geometry';
import type { Trim } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBoard } from '../src/index.js';
import type { PlanInput } from '../src/plan-input.js';
import { cutsOf } from './cuts.js';
import { boardOf, HOLDING, inputOf, MACHINE, partOf, ROUTER } from './workshop.js';

const PART = partOf('A', rectangleRing(40, 40, 240, 160));
const planWith = (trims: readonly Trim[], more: Partial<PlanInput> = {}) =>
  planBoard(inputOf([PART], { board: { ...boardOf(1000, 600), trims }, ...more }));
const codesOf = (trims: readonly Trim[], more: Partial<PlanInput> = {}) =>
  planWith(trims, more)
    .diagnostics.filter((d) => d.level === 'error')
    .map((d) => d.code);
const mustPlan = (trims: readonly Trim[], more: Partial<PlanInput> = {}) => {
  const plan = planWith(trims, more);
  if (!plan.ok) throw new Error(plan.diagnostics.at(-1)!.message);
  return plan.value;
};

describe('a trimming cut', () => {
  it('runs beside its edge, on the waste’s side, from beyond the sheet to beyond it, through it, last of all', () => {
    const { workplan, toolpath } = mustPlan([{ along: 'y', at: 400, waste: 'above' }]);
    const step = workplan.steps.at(-1)!;
    expect(step.kind).toBe('trimming');
    const cuts = cutsOf(toolpath).filter((c) => c.move.from === step.id && c.move.to.z < 0);
    // The finished edge is at X 400, the cutter 6 mm thick.
    expect(new Set(cuts.map((c) => c.move.to.x))).toEqual(new Set([403]));
    const ys = cuts.map((c) => c.move.to.y);
    expect([Math.min(...ys), Math.max(...ys)]).toEqual([-3.5, 603.5]);
    expect(Math.min(...cuts.map((c) => c.move.to.z))).toBeCloseTo(-18.3, 9);
    // Passes of 6.1 mm, none deeper than the cutter may.
    expect(step.depths).toHaveLength(3);
  });

  it('leaves what is kept right of climb and left of conventional, whatever axis and side', () =>
    fc.assert(
      fc.property(
        fc.constantFrom('x' as const, 'y' as const),
        fc.constantFrom('below' as const, 'above' as const),
        fc.constantFrom('climb' as const, 'conventional' as const),
        (along, waste, direction) => {
          const { workplan, toolpath } = mustPlan([{ along, at: 300, waste }], { direction });
          const step = workplan.steps.at(-1)!;
          const level = cutsOf(toolpath).filter(
            (c) => c.move.from === step.id && c.from.z < -1 && Math.abs(c.from.z - c.move.to.z) < 1e-6,
          );
          expect(level.length).toBeGreaterThan(2);
          for (const { from, move } of level) {
            const [dx, dy] = [move.to.x - from.x, move.to.y - from.y];
            // Towards what is kept, across the cut.
            const sign = waste === 'above' ? -1 : 1;
            const kept = along === 'y' ? { x: sign, y: 0 } : { x: 0, y: sign };
            const right = dx * -kept.y + dy * kept.x > 0;
            expect(right).toBe(direction === 'climb');
          }
        },
      ),
    ));

  it('leaves its off-cut on tabs that nothing is cut below', () => {
    const { workplan, toolpath } = mustPlan([{ along: 'y', at: 400, waste: 'above' }]);
    const step = workplan.steps.at(-1)!;
    // 600 mm ask for two by their spacing; 2 · (55 N + 50 N) of force and weight over 90 N a tab for three.
    expect(step.tabs).toHaveLength(3);
    for (const { at } of step.tabs) {
      const over = cutsOf(toolpath).filter(
        (c) =>
          c.move.from === step.id &&
          Math.min(c.from.y, c.move.to.y) < at.y + 5.9 &&
          Math.max(c.from.y, c.move.to.y) > at.y - 5.9,
      );
      expect(Math.min(...over.flatMap((c) => [c.from.z, c.move.to.z]))).toBeGreaterThanOrEqual(-15 - 1e-9);
    }
  });

  it('comes after everything else, also with another cutter', () => {
    const thick = { ...ROUTER, id: 'router-10', number: 5, diameter: 10 };
    const { workplan } = mustPlan([{ along: 'y', at: 400, waste: 'above' }], { cutters: [thick, ROUTER] });
    expect(workplan.steps.map((s) => s.kind)).toEqual(['outside profile', 'trimming']);
  });

  it('is refused where it misses the sheet, cuts into a part, meets a clamp, is out of reach, or no router goes through', () => {
    expect(codesOf([{ along: 'y', at: 1200, waste: 'above' }])).toEqual(['plan/trim-off-board']);
    expect(codesOf([{ along: 'y', at: 100, waste: 'above' }])).toEqual(['plan/trim-into-part']);
    // The edge may be the part's own on the side of the waste, not on the other.
    expect(codesOf([{ along: 'y', at: 240, waste: 'below' }])).toEqual(['plan/trim-into-part']);
    expect(codesOf([{ along: 'y', at: 250, waste: 'above' }])).toEqual([]);
    const keepOuts = [rectangleRing(396, 200, 410, 214)];
    expect(
      codesOf([{ along: 'y', at: 400, waste: 'above' }], {
        board: { ...boardOf(1000, 600), keepOuts, trims: [{ along: 'y', at: 400, waste: 'above' }] },
      }),
    ).toEqual(['plan/in-keep-out']);
    const short = { ...MACHINE, envelope: { ...MACHINE.envelope, y: [0, 1400] as [number, number] } };
    expect(codesOf([{ along: 'y', at: 400, waste: 'above' }], { machine: short })).toContain(
      'plan/out-of-reach',
    );
    const down = { ...ROUTER, upCutLength: 7 };
    expect(codesOf([{ along: 'y', at: 400, waste: 'above' }], { cutters: [down] })).toContain(
      'plan/no-router-through',
    );
    expect(
      codesOf([{ along: 'y', at: 400, waste: 'above' }], {
        holding: { ...HOLDING, fewestTabs: 60 },
      }),
    ).toContain('plan/no-room-for-tabs');
  });

  it('is not made on the first side of a sheet that is turned over', () => {
    const { workplan } = mustPlan([{ along: 'y', at: 400, waste: 'above' }], { staysInSheet: true });
    expect(workplan.steps.some((s) => s.kind === 'trimming')).toBe(false);
  });
});
