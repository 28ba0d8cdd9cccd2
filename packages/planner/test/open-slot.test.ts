import { loadClip, polygonRing, rectangleRing, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Plan, type PlanInput, planBoard } from '../src/index.js';
import { findOpenSlots } from '../src/open-slot.js';
import { brokenLaws } from './laws.js';
import { relieved } from './relieved.js';
import { contourOf, inputOf, partOf } from './workshop.js';

/** A plate with a slot of this width and depth in its lower edge. */
const slotted = (width: number, depth: number) => {
  const [x, y] = [160, 40];
  const outline = polygonRing([
    { x: 40, y },
    { x, y },
    { x, y: y + depth },
    { x: x + width, y: y + depth },
    { x: x + width, y },
    { x: 400, y },
    { x: 400, y: 260 },
    { x: 40, y: 260 },
  ]);
  return partOf('A', outline, { outline: relieved(contourOf('A', outline), 'outside', 3) });
};

const mustPlan = (input: PlanInput): Plan => {
  const plan = planBoard(input);
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  return plan.value;
};

const WALLS = new Set(['A/e1', 'A/e2', 'A/e3']);

describe('slots that are open at an edge', () => {
  it('are cut on their own before the outline, with every law kept', async () => {
    const clip = await loadClip();
    const any = fc.record({
      width: fc.integer({ min: 65, max: 215 }).map((w) => w / 10),
      depth: fc.integer({ min: 15, max: 120 }),
      mates: fc.boolean(),
      direction: fc.constantFrom('climb' as const, 'conventional' as const),
    });
    fc.assert(
      fc.property(any, ({ width, depth, mates, direction }) => {
        const input = inputOf([slotted(width, depth)], {
          mating: mates ? WALLS : new Set<string>(),
          direction,
        });
        const plan = mustPlan(input);
        expect(plan.workplan.steps.map((s) => s.kind)).toEqual(['open slot', 'outside profile']);
        expect(brokenLaws(plan, input, clip)).toEqual([]);
      }),
      { numRuns: 8 },
    );
  });

  it('are met at their mouth, outside the part', () => {
    const plan = mustPlan(inputOf([slotted(17.4, 60)], { mating: WALLS }));
    const [slot] = plan.workplan.steps;
    expect(slot).toMatchObject({ feature: 'A.slot1', slug: 'cut to chips', finish: { stock: 0.3 } });
    const lowest = Math.min(
      ...plan.toolpath.moves.flatMap((m) =>
        'to' in m && m.from === slot!.id && m.to.z < 15 ? [m.to.y] : [],
      ),
    );
    // The edge lies at y = 40: the mouth is closed 3.5 mm beyond it, and the cutter's middle runs half a millimetre beyond.
    expect(lowest).toBeCloseTo(39.5, 3);
  });

  it('stay with the outline where their tongue stands by itself, and where the waste round it would not fit', () => {
    const kinds = (width: number, more: Partial<PlanInput> = {}) =>
      mustPlan(inputOf([slotted(width, 60)], more)).workplan.steps.map((s) => s.kind);
    expect(kinds(21.9)).toEqual(['open slot', 'outside profile']);
    expect(kinds(22.1)).toEqual(['outside profile']);
  });

  it('are found only where straight walls of one length stand square on a straight floor', () => {
    const find = (part: ReturnType<typeof slotted>) =>
      findOpenSlots(part.outline, 6, { tongue: 10, by: 3.5 }).slots.length;
    expect(find(slotted(18, 40))).toBe(1);
    expect(find(slotted(18, 5))).toBe(0);
    expect(find(partOf('A', rectangleRing(0, 0, 100, 100)))).toBe(0);
    const slanted = slotted(18, 40);
    const ring = {
      vertices: slanted.outline.bare.vertices.map((v, i) => (i === 2 ? { ...v, x: v.x + 3 } : v)),
    };
    expect(find({ ...slanted, outline: { ...slanted.outline, ring, bare: ring } })).toBe(0);
  });

  it('leave an outline that goes straight across their mouths', () => {
    const { rest, mouths } = findOpenSlots(slotted(18, 40).outline, 6, { tongue: 10, by: 3.5 });
    expect([...mouths]).toEqual(['A.slot1/mouth']);
    const across = ringSegments(rest.bare).find((s) => s.tag === 'A.slot1/mouth')!;
    expect([across.from.y, across.to.y]).toEqual([40, 40]);
    expect(rest.reliefs).toEqual([]);
  });
});
