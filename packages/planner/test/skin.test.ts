import { pointSegmentDistance, rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Plan, type PlanInput, planBoard } from '../src/index.js';
import { cutsOf } from './cuts.js';
import { formProblems } from './laws.js';
import { boardOf, contourOf, HOLDING, inputOf, partOf } from './workshop.js';

const SKIN = { ...HOLDING, skin: { thickness: 0.5 }, vacuum: { pressure: 60, friction: 0.4 } };

/** Parts of these sizes in a row; the first has an opening whose slug is held. */
const rowOf = (sizes: readonly (readonly [number, number])[], more: Partial<PlanInput> = {}): PlanInput => {
  let x = 40;
  const parts = sizes.map(([w, h], i) => {
    const id = `P${i}`;
    const opening = contourOf(`${id}.o`, rectangleRing(x + 20, 60, x + w - 20, 40 + h - 20));
    const part = partOf(id, rectangleRing(x, 40, x + w, 40 + h), i === 0 ? { through: [opening] } : {});
    x += w + 40;
    return part;
  });
  return inputOf(parts, {
    board: boardOf(4000, 1220),
    holding: SKIN,
    machine: { ...inputOf([]).machine, envelope: { x: [-20, 4100], y: [-20, 1400], z: [-30, 60] } },
    ...more,
  });
};

const mustPlan = (input: PlanInput) => {
  const plan = planBoard(input);
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  return plan;
};

const side = fc.integer({ min: 120, max: 400 });

/** Where cutters come down through a skin, and the way there was not gone over level before, to its very end. */
function standingBelow({ toolpath, workplan }: Plan) {
  const cuts = cutsOf(toolpath);
  const at = (z: number): boolean => Math.abs(z + 17.5) < 1e-6;
  const level = cuts.filter((c) => at(c.move.to.z) && at(c.from.z));
  const frees = new Set(workplan.steps.flatMap((s) => (s.frees ? [s.id] : [])));
  const ramps = cuts.filter((c) => frees.has(c.move.from) && c.move.to.z < Math.min(c.from.z, -17.5) - 1e-6);
  expect(ramps.length).toBeGreaterThanOrEqual(2 * frees.size);
  return ramps
    .map((r) => r.move.to)
    .filter((p) => level.every((l) => pointSegmentDistance(l.segment, p) > 0.001));
}

describe('a skin under loose pieces', () => {
  it('is entered where nothing but the skin stands, from whatever side a clamp leaves open', () => {
    for (let x = 40; x <= 240; x += 20) {
      const clamp = rectangleRing(x, 10, x + 16, 33.9);
      const part = partOf('A', rectangleRing(40, 40, 240, 160));
      const board = { ...boardOf(1000, 600), keepOuts: [clamp] };
      const mating = new Set(['A/e1', 'A/e2', 'A/e3']);
      expect(standingBelow(mustPlan(inputOf([part], { board, holding: SKIN, mating })).value)).toEqual([]);
    }
  });

  it('stays until all else is done, and then goes piece by piece, the smallest first; no tabs stand', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(side, side), { minLength: 1, maxLength: 6 }), (sizes) => {
        const input = rowOf(sizes);
        const { value: plan } = mustPlan(input);
        expect(formProblems(plan, input, 0)).toEqual([]);
        const { steps } = plan.workplan;
        const first = steps.findIndex((s) => s.frees);
        expect(first).toBe(sizes.length + 1);
        expect(steps.slice(first).every((s) => s.frees)).toBe(true);
        expect(steps.flatMap((s) => s.tabs)).toEqual([]);
        const areaOf = (feature: string) => {
          const [w, h] = sizes[Number(feature[1])]!;
          return feature.endsWith('.o') ? (w - 40) * (h - 40) : w * h;
        };
        const areas = steps.slice(first).map((s) => areaOf(s.feature));
        expect(areas).toEqual([...areas].sort((a, b) => a - b));
        const deepest = (id: string) =>
          Math.min(...cutsOf(plan.toolpath).flatMap((c) => (c.move.from === id ? [c.move.to.z] : [])));
        expect(standingBelow(plan)).toEqual([]);
        for (const s of steps) expect(deepest(s.id)).toBeCloseTo(s.frees ? -18.3 : -17.5, 6);
      }),
      { numRuns: 20 },
    );
  });

  it('is cut by a pass that finishes mating walls as well', () => {
    const { value } = mustPlan(rowOf([[300, 200]], { mating: new Set(['P0/e1']), finishStock: 0.3 }));
    const outline = value.workplan.steps.filter((s) => s.feature === 'P0');
    expect(outline.map((s) => [s.frees, s.finish])).toEqual([
      [undefined, undefined],
      [true, { stock: 0.3 }],
    ]);
  });

  it('is warned of where nothing holds the piece in the end, with the figures, and refused where it makes no sense', () => {
    const codes = (holding: typeof SKIN | Omit<typeof SKIN, 'vacuum'>) =>
      planBoard(rowOf([[300, 200]], { holding })).diagnostics.map((d) => d.code);
    const { vacuum: _, ...bare } = SKIN;
    expect(codes(SKIN)).not.toContain('plan/freed-unheld');
    expect(codes(bare)).toContain('plan/freed-unheld');
    expect(codes({ ...SKIN, skin: { thickness: 12 } })).toContain('plan/bad-value');
    expect(codes({ ...SKIN, skin: { thickness: 0 } })).toContain('plan/bad-value');
  });
});
