import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultAllowances, findJoints, fitParts, jointGaps, refitMaster } from '../src/index.js';
import { all, demo, valueIn } from './demo.js';

const allowances = defaultAllowances('snug');

/** The worst difference between what the fits want and what the drawn parts leave, mm. */
function worstError(thicknesses: Record<string, number>, use = allowances): number {
  const master = valueIn(refitMaster(demo, { thicknesses }));
  const joinery = valueIn(findJoints(master, use));
  const parts = valueIn(fitParts(master, joinery, { relief: null }));
  const fits = joinery.joints.flatMap((j) => j.fits);
  const gaps = jointGaps(master, parts, joinery);
  expect(gaps.map((g) => g.fit)).toEqual(fits.map((f) => f.id));
  return Math.max(...gaps.map((g, i) => Math.abs(g.total - fits[i]!.wanted)));
}

describe('the gaps of the drawn parts, measured in space', () => {
  it('are what the fits want, whatever each part measures', () => {
    const thickness = fc.integer({ min: 120_001, max: 250_000 }).map((n) => n / 10_000);
    const perPart = fc.record(Object.fromEntries(demo.parts.map((p) => [p.id, thickness])));
    fc.assert(
      fc.property(perPart, (thicknesses) => {
        expect(worstError(thicknesses)).toBeLessThanOrEqual(0.0005);
      }),
      { numRuns: 60 },
    );
  });

  it.each(['drive', 'snug', 'slip'] as const)('are what a %s fit wants', (family) => {
    expect(worstError(all(demo, 17.7), defaultAllowances(family))).toBeLessThanOrEqual(0.0005);
  });

  it('are what a joint of its own wants', () => {
    const own = {
      ...allowances,
      perJoint: { 'M-EL-S1': { thickness: { wanted: 0.31, window: [0, 1] as const } } },
    };
    expect(worstError(all(demo, 18.2), own)).toBeLessThanOrEqual(0.0005);
  });
});
