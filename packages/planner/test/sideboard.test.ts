import { loadClip, ringPerimeter } from '@haunch/geometry';
import { tabsWanted } from '@haunch/model';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Plan, type PlanInput, planBoard } from '../src/index.js';
import { brokenLaws } from './laws.js';
import { laidInRows, matingEdges, sideboardParts } from './sideboard.js';
import { boardOf, DRILL, inputOf, MACHINE, ROUTER } from './workshop.js';

const machine = { ...MACHINE, envelope: { x: [0, 2600], y: [0, 2600], z: [-30, 60] } } as const;

function sideboardInput(more: Partial<PlanInput> = {}): PlanInput {
  const radius = (more.cutters ?? [ROUTER])[0]!.diameter / 2;
  const parts = sideboardParts(radius);
  return inputOf([], {
    board: boardOf(2440, 2440),
    items: laidInRows(parts, 2440, 2 * radius * 2 + 4),
    mating: matingEdges(parts),
    cutters: [ROUTER, DRILL],
    machine,
    ...more,
  });
}

describe('the sideboard', () => {
  let plan: Plan;
  const input = sideboardInput();
  beforeAll(() => {
    const outcome = planBoard(input);
    expect(outcome.diagnostics.filter((d) => d.level !== 'note')).toEqual([]);
    if (outcome.ok) plan = outcome.value;
  });

  it('is planned whole, with every law kept', async () => {
    expect(plan.workplan.steps.filter((s) => s.kind === 'outside profile')).toHaveLength(11);
    expect(brokenLaws(plan, input, await loadClip())).toEqual([]);
  }, 120_000);

  it('hangs every part on the tabs that it must have', () => {
    for (const s of plan.workplan.steps.filter((t) => t.kind === 'outside profile')) {
      const { outline } = input.items.find((p) => p.item === s.item)!.part;
      expect(s.tabs.length).toBeGreaterThanOrEqual(tabsWanted(input.holding, ringPerimeter(outline.bare)));
    }
  });

  it('plans the same bytes again', () => {
    const again = planBoard(sideboardInput());
    expect(again.ok && JSON.stringify(again.value)).toBe(JSON.stringify(plan));
  });
});

describe('the sideboard with an 8 mm compression cutter, zero on the bed, cut conventionally', () => {
  it('keeps every law as well', async () => {
    const router = { ...ROUTER, diameter: 8, upCutLength: 4, depthPerPass: 9.5 };
    const input = sideboardInput({
      cutters: [router, DRILL],
      machine: { ...machine, zZero: 'bed' },
      direction: 'conventional',
    });
    const outcome = planBoard(input);
    expect(outcome.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    if (outcome.ok) expect(brokenLaws(outcome.value, input, await loadClip())).toEqual([]);
  }, 120_000);
});
