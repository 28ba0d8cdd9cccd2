import { rectangleRing } from '@haunch/geometry';
import { expect, it } from 'vitest';
import { planBoard } from '../src/index.js';
import { HOLDING, inputOf, partOf, ROUTER } from './workshop.js';

const codes = (change: Parameters<typeof inputOf>[1]): string[] => {
  const plan = planBoard(inputOf([partOf('A', rectangleRing(40, 40, 240, 160))], change));
  if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
  return plan.diagnostics.map((d) => d.code);
};

it('says nothing of a plate on two stout tabs', () => {
  expect(codes({})).not.toContain('plan/weak-holding');
});

it('warns of tabs that would shear, with both figures', () => {
  const holding = { ...HOLDING, tabWidth: 2, tabHeight: 0.6 };
  expect(codes({ holding })).toContain('plan/weak-holding');
});

it('warns of a pass so deep and fast that stout tabs would not bear it', () => {
  const greedy = { ...ROUTER, depthPerPass: 18, chipLoad: 0.4, rpm: 7_000 };
  expect(codes({ cutters: [greedy] })).toContain('plan/weak-holding');
});
