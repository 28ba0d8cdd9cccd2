import { describe, expect, it } from 'vitest';
import { published } from './best-known.js';
import { GOAL_REFERENCES, goalTable, LAYOUT_GOALS, type LayoutGoal, reachedGoals } from './goals.js';
import type { LayoutProblem } from './problem.js';
import type { TrialResult } from './trial.js';

const trial = (problem: string, seed: number, more: Partial<TrialResult>): TrialResult => ({
  problem,
  strategy: 's',
  options: {},
  seed,
  budget: { seconds: 60 },
  reproducible: false,
  valid: true,
  refused: 0,
  leastGap: 0,
  lowerBound: 20,
  lowerBoundReason: 'area',
  curve: [],
  seconds: 60,
  ticks: 1,
  ...more,
});
const strip = (seed: number, density: number, problem = 'swim') =>
  trial(problem, seed, { density, length: 1, gap: 1 / density - 1 });
const one = (goal: LayoutGoal, ...trials: TrialResult[]) => reachedGoals(trials, [goal])[0]!;

describe('goals', () => {
  const swim: LayoutGoal = { problems: ['swim'], seconds: 60, density: 76.5 };

  it('are met by the mean of all seeds, and not by the best of them', () => {
    expect(one(swim, strip(1, 0.764), strip(2, 0.766))).toMatchObject({ met: true });
    expect(one(swim, strip(1, 0.75), strip(2, 0.779))).toMatchObject({ met: false });
  });

  it('are not met where one trial failed', () =>
    expect(one(swim, strip(1, 0.9), trial('swim', 2, { valid: false }))).toMatchObject({
      met: false,
      reached: undefined,
    }));

  it('count only trials of their problems with their budget', () => {
    expect(reachedGoals([strip(1, 0.9, 'swim2')], [swim])).toEqual([]);
    expect(reachedGoals([{ ...strip(1, 0.9), budget: { seconds: 5 } }], [swim])).toEqual([]);
    expect(reachedGoals([{ ...strip(1, 0.9), budget: { ticks: 60 } }], [swim])).toEqual([]);
  });

  it('of rectangles are met within so much over the optimum', () => {
    const goal: LayoutGoal = { problems: ['C1_*', 'C2_*'], seconds: 60, over: 2 };
    expect(one(goal, strip(1, 1, 'C1_1'), strip(1, 1 / 1.039, 'C2_1'))).toMatchObject({ met: true });
    expect(one(goal, strip(1, 1, 'C1_1'), strip(1, 1 / 1.041, 'C2_1'))).toMatchObject({ met: false });
  });

  it('of boards are met by the optimum often enough and never more than one above it', () => {
    const goal: LayoutGoal = { problems: ['TA*'], seconds: 60, optimal: 50 };
    const boards = (n: number) => trial(`TA${n}`, 1, { density: 1, boards: n });
    expect(one(goal, boards(20), boards(21))).toMatchObject({ met: true, reached: 50 });
    expect(one(goal, boards(20), boards(22))).toMatchObject({ met: false });
    expect(one(goal, boards(20), boards(21), boards(21))).toMatchObject({ met: false });
  });

  it('stand below what is in print, as the collection of best figures has it', () => {
    for (const { problem, best } of GOAL_REFERENCES) {
      const widths = [4900, 15, 60, 38, 40, 70, 2550, 104, 5752, 79];
      const known = widths.flatMap(
        (stripWidth) => published({ name: problem, stripWidth } as LayoutProblem)?.density ?? [],
      );
      expect(known.map((k) => Math.round(k * 1e4) / 100)).toEqual([best]);
      for (const g of LAYOUT_GOALS) if (g.problems[0] === problem) expect(g.density).toBeLessThan(best);
    }
  });

  it('are told with every seed, and how many are met', () => {
    const lines = goalTable([strip(1, 0.77), strip(2, 0.76)]);
    expect(lines[2]).toMatch(
      /^\| swim +\| 60 s +\| ≥ 76\.5 +\| +76\.50 \| +yes \| 77\.00 76\.00 \| +74\.49 · 75\.94 · 79\.83 \|$/,
    );
    expect(lines.at(-1)).toMatch(/^1 of 1 goals met; references: /);
    expect(goalTable([])).toEqual([]);
  });
});
