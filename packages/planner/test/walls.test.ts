import { pointRingDistance, type Ring, rectangleRing } from '@haunch/geometry';
import type { Cutter } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CUT_DIRECTIONS, type Plan, type PlanInput, planBoard } from '../src/index.js';
import { cutsOf } from './cuts.js';
import { boardOf, contourOf, inputOf, partOf, ROUTER } from './workshop.js';

const COMPRESSION: Cutter = { ...ROUTER, id: 'compression', upCutLength: 5 };
const STRAIGHT: Cutter = { ...ROUTER, id: 'straight', number: 3 };

const pocketed = (depth: number) =>
  partOf('A', rectangleRing(40, 40, 340, 240), {
    pockets: [{ ...contourOf('A.p', rectangleRing(100, 100, 200, 160)), face: 'n+', depth }],
  });

/** Depths, below the top, at which a step's cutter stands against the wall of a ring. */
function touches(plan: Plan, feature: string, ring: Ring, radius: number): number[] {
  const ids = new Set(plan.workplan.steps.filter((s) => s.feature === feature).map((s) => s.id));
  return cutsOf(plan.toolpath)
    .filter((c) => ids.has(c.move.from) && c.move.to.z < -1e-6)
    .filter((c) => pointRingDistance(ring, c.move.to) < radius + 0.01)
    .map((c) => -c.move.to.z);
}

describe('compression cutters', () => {
  it('touch a wall only deeper than their up-cut length, in outlines and in pockets', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 90, max: 240 }).map((t) => t / 10),
        fc.integer({ min: 55, max: 80 }).map((t) => t / 10),
        fc.integer({ min: 56, max: 150 }).map((t) => t / 10),
        (thickness, depthPerPass, wanted) => {
          const depth = Math.min(wanted, thickness - 1);
          const cutter = { ...COMPRESSION, depthPerPass, fluteLength: 30 };
          const input = inputOf([pocketed(depth)], {
            cutters: [cutter],
            board: boardOf(2440, 1220, thickness),
          });
          const plan = planBoard(input);
          if (!plan.ok) {
            expect(depthPerPass < 5.5 || depth < 5.5).toBe(true);
            return;
          }
          const { part } = input.items[0]!;
          const [pocket] = part.pockets;
          const seen = [
            ...touches(plan.value, 'A', part.outline.bare, 3),
            ...touches(plan.value, 'A.p', pocket!.bare, 3),
          ];
          expect(seen.length).toBeGreaterThan(8);
          expect(Math.min(...seen)).toBeGreaterThan(5.5 - 1e-9);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('are refused for a housing that is shallower than their up-cut length, with the figures', () => {
    const plan = planBoard(inputOf([pocketed(4)], { cutters: [COMPRESSION] }));
    const said = plan.diagnostics.find((d) => d.code === 'plan/shallow-first-pass')!;
    expect(plan.ok).toBe(false);
    expect(said.message).toContain('4 mm');
    expect(said.message).toContain('5.5 mm');
    expect(said.locus).toMatchObject({ part: 'A', feature: 'A.p' });
    // A deeper pass is no way out of a housing of 4 mm.
    expect(said.hint).toContain('only 4 mm deep');
    expect(said.hint).not.toContain('depthPerPass');
  });

  it('leave it to another cutter where the job has one', () => {
    const plan = planBoard(inputOf([pocketed(4)], { cutters: [COMPRESSION, STRAIGHT] }));
    if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
    expect(plan.value.workplan.steps.map((s) => [s.feature, s.cutter])).toEqual([
      ['A.p', 'straight'],
      ['A', 'compression'],
    ]);
  });

  it('bore no hole shallower than that either', () => {
    const holed = partOf('A', rectangleRing(40, 40, 340, 240), {
      holes: [{ id: 'A.h', centre: { x: 150, y: 150 }, diameter: 9, depth: 4, face: 'n+' }],
    });
    const codes = (cutters: readonly Cutter[]) =>
      planBoard(inputOf([holed], { cutters })).diagnostics.map((d) => d.code);
    expect(codes([COMPRESSION])).toContain('plan/shallow-first-pass');
    expect(codes([COMPRESSION, STRAIGHT])).not.toContain('plan/shallow-first-pass');
  });
});

/** Twice the signed area that the deepest pass of a step goes round; negative: clockwise. */
function turn(plan: Plan, feature: string): number {
  const step = plan.workplan.steps.find((s) => s.feature === feature)!;
  const floor = -step.depths.at(-1)! + 4;
  return cutsOf(plan.toolpath)
    .filter((c) => c.move.from === step.id && c.from.z < floor && c.move.to.z < floor)
    .reduce((sum, c) => sum + c.from.x * c.move.to.y - c.move.to.x * c.from.y, 0);
}

const mirrored = (input: PlanInput): PlanInput => {
  const flip = (r: Ring): Ring => ({
    vertices: [...r.vertices].reverse().map((v) => ({ ...v, x: 400 - v.x })),
  });
  return {
    ...input,
    items: input.items.map(({ item, part }) => ({
      item,
      part: {
        ...part,
        outline: { ...part.outline, ring: flip(part.outline.ring), bare: flip(part.outline.bare) },
        through: part.through.map((t) => ({ ...t, ring: flip(t.ring), bare: flip(t.bare) })),
      },
    })),
  };
};

describe('cutting sense', () => {
  it('goes by wall and material where nothing else is said, as the table says that is given', () => {
    const part = partOf('A', rectangleRing(40, 40, 340, 240), {
      through: [contourOf('A.o', rectangleRing(90, 80, 190, 180))],
      pockets: [{ ...contourOf('A.p', rectangleRing(230, 80, 300, 140)), face: 'n+', depth: 6 }],
    });
    const senses = (more: Partial<PlanInput>) => {
      const plan = planBoard(inputOf([part], more));
      if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
      return ['A', 'A.o', 'A.p'].map((f) => Math.sign(turn(plan.value, f)));
    };
    // Climb: outlines clockwise, openings and pockets counter-clockwise.
    expect(senses({})).toEqual([-1, 1, 1]);
    expect(senses({ material: 'fibreboard' })).toEqual([1, -1, 1]);
    expect(senses({ board: { ...boardOf(2440, 1220), sheet: 'fibreboard' } })).toEqual([1, -1, 1]);
    const of = {
      ...CUT_DIRECTIONS.of,
      fibreboard: { outline: 'climb', opening: 'climb', pocket: 'conventional' } as const,
    };
    expect(senses({ material: 'fibreboard', directions: { ...CUT_DIRECTIONS, of } })).toEqual([-1, 1, -1]);
  });

  it.each([
    ['climb', -1],
    ['conventional', 1],
  ] as const)(
    '%s: outlines and openings keep their sense, and so does the mirrored job',
    (direction, sense) => {
      const part = partOf('A', rectangleRing(40, 40, 340, 240), {
        through: [contourOf('A.o', rectangleRing(90, 80, 190, 180))],
      });
      const input = inputOf([part], { direction });
      for (const job of [input, mirrored(input)]) {
        const plan = planBoard(job);
        if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
        // With a clockwise spindle climb leaves the part on the right: outlines clockwise, openings counter-clockwise.
        expect(Math.sign(turn(plan.value, 'A'))).toBe(sense);
        expect(Math.sign(turn(plan.value, 'A.o'))).toBe(-sense);
      }
    },
  );
});
