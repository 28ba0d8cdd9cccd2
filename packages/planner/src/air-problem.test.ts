import { rectangleRing } from '@haunch/geometry';
import { expect, it } from 'vitest';
import { contourOf, inputOf, partOf } from '../test/workshop.js';
import { airProblem } from './air-problem.js';
import { planBoard } from './plan-board.js';
import { choicePathBound } from './tour/path-bound.js';
import { choicePathCost, isChoicePath } from './tour/sequencing-problem.js';

it('the way between the cuts of a plan is a path of its problem, no longer than nearest first and no shorter than the bound', () => {
  const parts = Array.from({ length: 6 }, (_, i) => {
    const [x, y] = [40 + (i % 3) * 300, 40 + Math.floor(i / 3) * 260];
    const opening = contourOf(`P${i}.o`, rectangleRing(x + 30, y + 60, x + 90, y + 80));
    return partOf(`P${i}`, rectangleRing(x, y, x + 220, y + 180), { through: [opening] });
  });
  const input = inputOf(parts);
  const { problem, nearest, planned } = airProblem(input);
  for (const path of [nearest, planned]) expect(isChoicePath(problem, path)).toBe(true);
  const [first, ours] = [nearest, planned].map((p) => choicePathCost(problem, p));
  expect(ours!).toBeLessThanOrEqual(first!);
  const bound = choicePathBound(problem, 500);
  expect(bound).toBeGreaterThan(0.3 * ours!);
  expect(bound).toBeLessThanOrEqual(ours! + 1e-6);
  // The plan's own moves tell the same length from its first cut on.
  const plan = planBoard(input);
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  let [at, step, sum] = [{ x: 0, y: 0 }, '', 0];
  for (const m of plan.value.toolpath.moves) {
    if (!('to' in m)) continue;
    if (step !== '' && m.from !== step) sum += Math.hypot(m.to.x - at.x, m.to.y - at.y);
    [step, at] = [m.from, m.to];
  }
  const wide = problem.entries.flat().length;
  expect(sum).toBeCloseTo(ours! - problem.cost[0 * wide + planned[1]!]!, 3);
});
