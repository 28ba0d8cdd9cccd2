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
  }, 180_000);

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

  it('tell of a wall, a plate or a depth that is not where it should be', () => {
    const joinery = valueIn(findJoints(demo, allowances));
    const parts = valueIn(fitParts(demo, joinery, { relief: null }));
    const total = (id: string, these = parts, master = demo) =>
      jointGaps(master, these, joinery).find((g) => g.fit === id)!.total;
    const shelf = 'M-EL-S1:EL.m1:thickness';
    const floor = 'M-TOP-D1:TOP.h1:seat';
    expect(total(shelf)).toBeCloseTo(0.1, 9);
    // The lower wall, e0 from corner 0 to 1, 0.02 too high.
    const raised = parts.map((p) =>
      p.id === 'EL'
        ? {
            ...p,
            through: p.through.map((c) => ({
              ...c,
              bare: { vertices: c.bare.vertices.map((v, k) => (k < 2 ? { ...v, y: v.y + 0.02 } : v)) },
            })),
          }
        : p,
    );
    expect(total(shelf, raised)).toBeCloseTo(0.08, 9);
    // One end of it only: the tightest place counts.
    const tilted = parts.map((p) =>
      p.id === 'EL'
        ? {
            ...p,
            through: p.through.map((c) => ({
              ...c,
              bare: { vertices: c.bare.vertices.map((v, k) => (k < 1 ? { ...v, y: v.y + 0.02 } : v)) },
            })),
          }
        : p,
    );
    expect(total(shelf, tilted)).toBeCloseTo(0.08, 9);
    // A plate that measures more than it was refitted for.
    expect(
      total(
        shelf,
        parts.map((p) => (p.id === 'S1' ? { ...p, thickness: 18.15 } : p)),
      ),
    ).toBeCloseTo(-0.05, 9);
    // A plate that stands elsewhere: a slot keeps its total, a seat does not.
    const lifted: typeof demo = {
      ...demo,
      parts: demo.parts.map((p) =>
        p.id === 'D1'
          ? { ...p, frame: { ...p.frame, origin: [377, 40, 100.03] as [number, number, number] } }
          : p,
      ),
    };
    expect(total(floor, parts, lifted)).toBeCloseTo(-0.03, 9);
    // A housing that is cut too shallow.
    const shallow = parts.map((p) => ({ ...p, pockets: p.pockets.map((c) => ({ ...c, depth: 7.9 })) }));
    expect(total(floor, shallow)).toBeCloseTo(-0.1, 9);
    expect(() => total(shelf, parts.slice(1))).toThrow(RangeError);
    expect(() =>
      total(
        shelf,
        parts.map((p) => (p.id === 'EL' ? { ...p, through: [] } : p)),
      ),
    ).toThrow(RangeError);
  });
});
