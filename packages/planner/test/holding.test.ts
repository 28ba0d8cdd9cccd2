import { rectangleRing } from '@haunch/geometry';
import type { Holding } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holdingMoments } from '../src/check-holding.js';
import { FEED_TABLES, type FeedTables, planBoard } from '../src/index.js';
import type { Operation } from '../src/operation.js';
import { boardOf, HOLDING, inputOf, MACHINE, partOf, ROUTER } from './workshop.js';

const PLATE = partOf('A', rectangleRing(40, 40, 240, 160));

const planOf = (change: Parameters<typeof inputOf>[1], part = PLATE) => {
  const plan = planBoard(inputOf([part], change));
  const codes = plan.diagnostics.map((d) => d.code);
  const tabs = plan.ok ? plan.value.workplan.steps.find((s) => s.kind === 'outside profile')!.tabs : [];
  return { plan, codes, tabs: tabs.length };
};

describe('holding', () => {
  it('says nothing of a plate on two stout tabs, as many as the job asks for', () => {
    const { codes, tabs } = planOf({});
    expect(codes).not.toContain('plan/weak-holding');
    expect(tabs).toBe(2);
  });

  it('makes more tabs than the job asks for where the cutter pushes harder than they bear', () => {
    // 60 N/mm² × 6.1 mm × 0.4 mm = 146 N and 7 N of weight, twice: 307 N; a tab of 6 × 3 mm bears 90 N.
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    const { codes, tabs } = planOf({ cutters: [greedy] });
    expect(codes).not.toContain('plan/weak-holding');
    expect(tabs).toBe(4);
  });

  it('needs fewer of them where vacuum holds the plate as well', () => {
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    const holding: Holding = { ...HOLDING, vacuum: { pressure: 20, friction: 0.3 } };
    // 0.3 × 20 kPa × 24,000 mm² = 144 N of the 307 N.
    expect(planOf({ cutters: [greedy], holding }).tabs).toBe(2);
  });

  it('warns of tabs that are held to less than twice the force, with both figures', () => {
    // Twelve tabs of 9 N are as many as are made; 116 N are wanted.
    const { codes } = planOf({ holding: { ...HOLDING, tabWidth: 2, tabHeight: 0.9 } });
    expect(codes).toContain('plan/weak-holding');
  });

  it('refuses a plate whose tabs are weaker than the cutter where the shop knows its tabs, and warns where not, with both figures', () => {
    const frail = { ...HOLDING, tabWidth: 2, tabHeight: 0.2 };
    const said = (holding: Holding) => {
      const { plan } = planOf({ holding });
      const d = plan.diagnostics.find((e) => e.code === 'plan/would-come-loose')!;
      expect(d.message.match(/\d+ N/g)).toHaveLength(2);
      return [plan.ok, d.level, /assumed/.test(d.message)];
    };
    expect(said(frail)).toEqual([true, 'warning', true]);
    expect(said({ ...frail, tabStrength: 5 })).toEqual([false, 'error', false]);
  });

  it('reckons with the strength of tabs that the shop has found', () => {
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    expect(planOf({ cutters: [greedy], holding: { ...HOLDING, tabStrength: 10 } }).tabs).toBe(2);
    const frail = { ...HOLDING, tabWidth: 2, tabHeight: 0.2, tabStrength: 60 };
    expect(planOf({ holding: frail }).codes).not.toContain('plan/would-come-loose');
  });

  it('refuses a part under a keep-out, and lets one lie in an opening', () => {
    const screw = rectangleRing(100, 90, 106, 96);
    const board = { ...boardOf(2440, 1220), keepOuts: [screw] };
    expect(planOf({ board }).codes).toContain('plan/keep-out-over-part');
    const open = partOf('A', rectangleRing(40, 40, 240, 160), {
      through: [
        {
          id: 'A.o',
          reliefs: [],
          ring: rectangleRing(70, 60, 140, 140),
          bare: rectangleRing(70, 60, 140, 140),
        },
      ],
    });
    expect(planOf({ board }, open).codes).not.toContain('plan/keep-out-over-part');
  });

  it('reckons with the sheet that is cut: fibreboard pushes less than birch plywood, by the tables of the job', () => {
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    // 50 N/mm² × 6.1 mm × 0.4 mm = 122 N instead of 146 N, and 7 N of weight, twice: 258 N; a tab bears 90 N.
    expect(planOf({ cutters: [greedy], material: 'birch plywood' }).tabs).toBe(4);
    expect(planOf({ cutters: [greedy], material: 'fibreboard' }).tabs).toBe(3);
    const board = { ...boardOf(2440, 1220), sheet: 'fibreboard' as const };
    expect(planOf({ cutters: [greedy], board }).tabs).toBe(3);
    // Tables of the shop's own: 20 N/mm² ask for 2 · (49 + 7) = 112 N, which the two tabs of the job bear.
    const tables: FeedTables = { ...FEED_TABLES, energy: { ...FEED_TABLES.energy, fibreboard: [5, 10, 20] } };
    expect(planOf({ cutters: [greedy], board, tables }).tabs).toBe(2);
  });

  it('warns of a sheet on too few screws, and not of one on enough, by what a screw bears', () => {
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    const screws = (n: number) =>
      Array.from({ length: n }, (_, i) => ({ at: { x: 600 + 50 * i, y: 600 }, head: 10 }));
    const said = (n: number, holding: Holding = HOLDING) => {
      const plan = planOf({
        cutters: [greedy],
        board: { ...boardOf(2440, 1220), screws: screws(n) },
        holding,
      }).plan;
      return plan.diagnostics.find((d) => d.code === 'plan/sheet-weakly-held')?.message;
    };
    // Twice 146 N is wanted, and one screw bears 300 N.
    expect(said(1)).toBeUndefined();
    expect(said(1, { ...HOLDING, screwStrength: 200 })).toMatch(/1 screw\) bears about 200 N.* 146 N/);
    expect(said(2, { ...HOLDING, screwStrength: 200 })).toBeUndefined();
    // Nothing declared, nothing said: clamps are unknown.
    expect(said(0)).toBeUndefined();
  });

  it('counts the vacuum under what is left of the sheet, and screws through a slug for the slug alone', () => {
    const greedy = { ...ROUTER, chipLoad: 0.4, rpm: 7_000 };
    const opening = rectangleRing(70, 60, 210, 140);
    const open = partOf('A', rectangleRing(40, 40, 240, 160), {
      through: [{ id: 'A.o', reliefs: [], ring: opening, bare: opening }],
    });
    const head = rectangleRing(135, 95, 145, 105);
    const board = { ...boardOf(260, 180), keepOuts: [head], screws: [{ at: { x: 140, y: 100 }, head: 10 }] };
    const change = {
      cutters: [greedy],
      holding: { ...HOLDING, vacuum: { pressure: 20, friction: 0.3 } },
      board,
    };
    const { plan } = planOf(change, open);
    if (!plan.ok) throw new Error(plan.diagnostics.at(-1)!.message);
    const slug = plan.value.workplan.steps.find((s) => s.feature === 'A.o')!;
    expect(slug.slug).toBe('held');
    // At the outline the screw is gone with the slug, and the vacuum under 260 × 180 mm bears 0.3 × 20 × 46.8 = 281 N of 293 N.
    const said = plan.diagnostics.find((d) => d.code === 'plan/sheet-weakly-held')?.message;
    expect(said).toMatch(/0 screws and vacuum\) bears about 281 N/);
    const cut = { ...slug, cutter: greedy, area: 140 * 80, moves: [], encloses: [] } as unknown as Operation;
    const input = inputOf([open], change);
    const holding = (b: typeof board) => holdingMoments([cut], { ...input, board: b }).at(-1)!.check.holding;
    expect(holding(board) - holding({ ...board, screws: [] })).toBeCloseTo(300, 9);
  });

  it('keeps the hood off clamps, not the cutter alone', () => {
    const clamp = rectangleRing(20, 260, 240, 280);
    const board = { ...boardOf(2440, 1220), keepOuts: [clamp] };
    expect(planOf({ board }).plan.ok).toBe(true);
    const { codes } = planOf({ board, machine: { ...MACHINE, hoodRadius: 120 } });
    expect(codes).toContain('plan/in-keep-out');
  });

  it('holds every plate at every moment of the work, whatever its size, or says so', () => {
    const anyPlate = fc.record({
      width: fc.integer({ min: 60, max: 900 }),
      height: fc.integer({ min: 60, max: 600 }),
      chipLoad: fc.integer({ min: 5, max: 40 }).map((h) => h / 100),
      tabWidth: fc.integer({ min: 2, max: 10 }),
      tabHeight: fc.integer({ min: 1, max: 5 }),
    });
    fc.assert(
      fc.property(anyPlate, ({ width, height, chipLoad, tabWidth, tabHeight }) => {
        const part = partOf('A', rectangleRing(40, 40, 40 + width, 40 + height));
        const input = inputOf([part], {
          cutters: [{ ...ROUTER, chipLoad, rpm: 7_000 }],
          holding: { ...HOLDING, tabWidth, tabHeight, tabStrength: 5 },
        });
        const plan = planBoard(input);
        if (!plan.ok) {
          expect(plan.diagnostics.some((d) => /would-come-loose|no-room/.test(d.code))).toBe(true);
          return;
        }
        const [step] = plan.value.workplan.steps;
        const operation: Operation = {
          ...step!,
          cutter: input.cutters[0]!,
          area: width * height,
          moves: [],
          encloses: [],
          kind: 'outside profile',
        };
        const moments = holdingMoments([operation], input);
        expect(moments).toHaveLength(step!.depths.length);
        expect(moments.at(-1)!.by).toBe('tabs');
        const warned = plan.diagnostics.some((d) => d.code === 'plan/weak-holding');
        for (const { check } of moments) expect(check.margin).toBeGreaterThanOrEqual(warned ? 0.5 : 1);
        // The same cut with its tabs taken away must not pass.
        const bare = holdingMoments([{ ...operation, tabs: [] }], input);
        expect(bare.at(-1)!.check.holds).toBe(false);
      }),
      { numRuns: 60 },
    );
  });
});
