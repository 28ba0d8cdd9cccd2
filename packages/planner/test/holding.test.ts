import { rectangleRing } from '@haunch/geometry';
import type { Holding } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holdingMoments } from '../src/check-holding.js';
import { planBoard } from '../src/index.js';
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
          cutters: [{ ...ROUTER, chipLoad }],
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
