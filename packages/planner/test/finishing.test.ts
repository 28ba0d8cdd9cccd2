import { type Point, pointSegmentDistance, type Ring, rectangleRing, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finishFeeds } from '../src/feeds/finish-feeds.js';
import { type Plan, type PlanInput, planBoard } from '../src/index.js';
import { type Cut, cutsOf } from './cuts.js';
import { relieved } from './relieved.js';
import { contourOf, inputOf, partOf, ROUTER } from './workshop.js';

const RADIUS = ROUTER.diameter / 2;

/** A plate whose right edge, whose mortise and whose housing meet other plates. */
function plated(width: number, slot: number, depth: number): PlanInput {
  const mortise = relieved(contourOf('A.m', rectangleRing(100, 100, 100 + slot, 180)), 'inside', RADIUS);
  const housing = relieved(contourOf('A.h', rectangleRing(200, 100, 290, 100 + slot)), 'inside', RADIUS);
  const part = partOf('A', rectangleRing(40, 40, 40 + width, 240), {
    through: [mortise],
    pockets: [{ ...housing, face: 'n+', depth }],
  });
  const walls = [0, 1, 2, 3].flatMap((e) => [`A.m/e${e}`, `A.h/e${e}`]);
  return inputOf([part], { mating: new Set(['A/e1', ...walls]) });
}

const mustPlan = (input: PlanInput): Plan => {
  const plan = planBoard(input);
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  return plan.value;
};

interface Pass {
  /** Depth below the top, mm. */
  readonly depth: number;
  /** How far the cutter's edge stays off the wall at the least. */
  readonly off: number;
}

/** Every stretch that runs along an edge, in order: how deep, and how far off. */
function passesAlong(plan: Plan, feature: string, ring: Ring, tag: string): Pass[] {
  const step = plan.workplan.steps.find((s) => s.feature === feature)!;
  const edge = ringSegments(ring).find((s) => s.tag === tag)!;
  const middle = { x: (edge.from.x + edge.to.x) / 2, y: (edge.from.y + edge.to.y) / 2 };
  const across = (p: Point) =>
    (p.x - edge.from.x) * (edge.to.y - edge.from.y) - (p.y - edge.from.y) * (edge.to.x - edge.from.x);
  const along = (c: Cut) => Math.abs(across(c.from) - across(c.move.to)) < 1e-2 && c.segment.kind === 'line';
  const reaches = (c: Cut) => along(c) && pointSegmentDistance(c.segment, middle) < RADIUS + 0.5;
  return cutsOf(plan.toolpath)
    .filter((c) => c.move.from === step.id && c.from.z === c.move.to.z && c.from.z < 0 && reaches(c))
    .map((c) => ({ depth: -c.from.z, off: pointSegmentDistance(c.segment, middle) - RADIUS }));
}

const shape = fc.record({
  width: fc.integer({ min: 300, max: 700 }),
  slot: fc.integer({ min: 130, max: 300 }).map((v) => v / 10),
  depth: fc.integer({ min: 30, max: 140 }).map((v) => v / 10),
  stock: fc.integer({ min: 5, max: 40 }).map((v) => v / 100),
});

describe('walls that another plate touches', () => {
  it('keep their stock until one pass at full depth takes it', () => {
    fc.assert(
      fc.property(shape, ({ width, slot, depth, stock }) => {
        const input = { ...plated(width, slot, depth), finishStock: stock };
        const plan = mustPlan(input);
        const { part } = input.items[0]!;
        const walls: [string, Ring, string, number][] = [
          ['A', part.outline.bare, 'A/e1', 18.3],
          ...[0, 1, 2, 3].map((e): [string, Ring, string, number] => [
            'A.m',
            part.through[0]!.bare,
            `A.m/e${e}`,
            18.3,
          ]),
          ...[0, 1, 2, 3].map((e): [string, Ring, string, number] => [
            'A.h',
            part.pockets[0]!.bare,
            `A.h/e${e}`,
            depth,
          ]),
        ];
        for (const [feature, ring, tag, full] of walls) {
          const passes = passesAlong(plan, feature, ring, tag);
          const last = passes.filter((p) => p.off < 1e-3).at(-1)!;
          expect(last.depth).toBeCloseTo(full, 3);
          expect(last.off).toBeCloseTo(0, 3);
          const before = passes.filter((p) => p.off > 0.001);
          const depths = plan.workplan.steps.find((s) => s.feature === feature)!.depths;
          // The last pass may come in two halves, from where the contour is met.
          expect(passes.filter((p) => p.off <= 0.001).every((p) => p.depth === last.depth)).toBe(true);
          for (const d of depths)
            expect(before.some((p) => Math.abs(p.depth - d) < 1e-3 && Math.abs(p.off - stock) < 1e-3)).toBe(
              true,
            );
          // At full depth the way in to the finishing pass may run along the wall in what was its stock.
          const shallow = passes.filter((p) => p.depth < full - 1e-3);
          expect(Math.min(Infinity, ...shallow.map((p) => p.off))).toBeGreaterThan(stock - 1e-3);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('alone are finished: others are cut to size in every pass, and hurried past at the end', () => {
    const input = { ...plated(400, 18, 8), finishStock: 0.2 };
    const plan = mustPlan(input);
    const free = passesAlong(plan, 'A', input.items[0]!.part.outline.bare, 'A/e3');
    expect(free.every((p) => Math.abs(p.off) < 1e-3)).toBe(true);
    const step = plan.workplan.steps.find((s) => s.feature === 'A')!;
    const deepest = cutsOf(plan.toolpath).filter(
      (c) => c.move.from === step.id && c.from.z === c.move.to.z && c.from.z < -18.2,
    );
    const onFree = deepest.filter((c) => Math.abs(c.from.x - 37) < 1e-3 && Math.abs(c.move.to.x - 37) < 1e-3);
    expect(new Set(onFree.map((c) => c.move.feed))).toEqual(new Set([5400, 6000]));
  });

  it('are cut at once where no stock is wanted, and where a slot has no room for it, of which a note tells', () => {
    expect(
      mustPlan({ ...plated(400, 18, 8), finishStock: 0 }).workplan.steps.every((s) => s.finish === undefined),
    ).toBe(true);
    const narrow = planBoard({ ...plated(400, 6.3, 8), finishStock: 0.2 });
    const said = narrow.diagnostics.filter((d) => d.code === 'plan/no-finishing');
    expect(said.map((d) => [d.level, d.locus.feature])).toEqual([
      ['note', 'A.h'],
      ['note', 'A.m'],
    ]);
    expect(said[0]!.message).toContain('0.2 mm');
  });

  it('are told of in the workplan', () => {
    const steps = mustPlan({ ...plated(400, 18, 8), finishStock: 0.25 }).workplan.steps;
    expect(Object.fromEntries(steps.map((s) => [s.feature, s.finish]))).toEqual({
      'A.h': { stock: 0.25 },
      'A.m': { stock: 0.25 },
      A: { stock: 0.25 },
    });
  });
});

describe('feeds', () => {
  it('fall before an inside corner of a finished wall, and nowhere else on it', () => {
    const input = { ...plated(400, 18, 8), finishStock: 0.3 };
    const plan = mustPlan(input);
    const step = plan.workplan.steps.find((s) => s.feature === 'A.h')!;
    // The housing's walls lie at 200, 290, 100 and 118; the cutter's middle runs 3 mm off them.
    const runs = cutsOf(plan.toolpath).filter(
      (c) => c.move.from === step.id && c.from.y === 103 && c.move.to.y === 103 && c.from.z === -8,
    );
    const { wall, corner } = finishFeeds(ROUTER, input.machine, 0.3);
    expect(corner).toBeLessThan(wall / 2);
    for (const c of runs) {
      const intoCorner = c.move.to.x === 287 && c.from.x === 284;
      expect(c.move.feed).toBe(intoCorner ? corner : wall);
    }
    expect(runs.some((c) => c.move.feed === corner)).toBe(true);
  });

  it('are warned of where the finishing cutter would bend, with the figures', () => {
    const thin = { ...ROUTER, diameter: 3, fluteLength: 30, depthPerPass: 3 };
    const plan = planBoard({
      ...inputOf([partOf('A', rectangleRing(40, 40, 340, 240))], { cutters: [thin] }),
      mating: new Set(['A/e1']),
      finishStock: 0.5,
    });
    const said = plan.diagnostics.find((d) => d.code === 'plan/finish-bends')!;
    expect(said.message).toMatch(/bend by \d+\.\d+ mm under \d+ N/);
    expect(said.level).toBe('warning');
  });
});

describe('tabs of a part with a seen face', () => {
  const at = (width: number, height: number, showFace: 'n+' | null) => {
    const part = partOf('A', rectangleRing(40, 40, 40 + width, 40 + height), { showFace });
    const plan = planBoard(inputOf([part]));
    if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
    const corners = part.outline.bare.vertices;
    const tabs = plan.value.workplan.steps[0]!.tabs;
    const nearest = Math.min(
      ...tabs.flatMap((t) => corners.map((v) => Math.hypot(v.x - t.at.x, v.y - t.at.y) - t.width / 2)),
    );
    return { nearest, said: plan.diagnostics.some((d) => d.code === 'plan/tab-at-seen-corner') };
  };

  it('keep off its corners, or a warning tells that there was no room', () => {
    fc.assert(
      fc.property(fc.integer({ min: 45, max: 400 }), fc.integer({ min: 45, max: 400 }), (w, h) => {
        const { nearest, said } = at(w, h, 'n+');
        expect(nearest >= 25 - 3 || said).toBe(true);
      }),
      { numRuns: 25 },
    );
    expect(at(50, 50, 'n+').said).toBe(true);
    expect(at(50, 50, null).said).toBe(false);
    expect(at(300, 300, 'n+').said).toBe(false);
  });
});
