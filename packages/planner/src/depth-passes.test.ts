import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { depthPasses } from './depth-passes.js';

const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('depth passes', () => {
  it('grow, end exactly at the total and never exceed the depth per pass', () => {
    fc.assert(
      fc.property(
        length(0.5, 40),
        length(0.5, 20),
        fc.option(length(0, 12), { nil: null }),
        (total, depthPerPass, upCutLength) => {
          const { depths } = depthPasses(total, { depthPerPass, upCutLength });
          expect(depths.at(-1)).toBe(total);
          depths.forEach((d, i) => {
            const step = d - (depths[i - 1] ?? 0);
            expect(step).toBeGreaterThan(0);
            expect(step).toBeLessThanOrEqual(depthPerPass + 1e-6);
          });
        },
      ),
    );
  });

  it('start deeper than the up-cut length and margin, or say what was needed', () => {
    fc.assert(
      fc.property(length(1, 40), length(1, 20), length(0, 12), (total, depthPerPass, upCutLength) => {
        const { depths, neededFirst } = depthPasses(total, { depthPerPass, upCutLength });
        if (neededFirst === null) expect(depths[0]).toBeGreaterThanOrEqual(upCutLength + 0.5 - 1e-9);
        else {
          expect(neededFirst).toBeCloseTo(upCutLength + 0.5, 12);
          expect(Math.min(total, depthPerPass)).toBeLessThan(neededFirst);
        }
      }),
    );
  });

  it('share the depth evenly', () => {
    expect(
      depthPasses(18.3, { depthPerPass: 6.5, upCutLength: null }).depths.map((d) => +d.toFixed(6)),
    ).toEqual([6.1, 12.2, 18.3]);
  });

  // Reference value C9 (common practice): up-cut 6.35 mm needs a first pass deeper than 6.85 mm.
  it('begin deeper than even where a compression cutter needs it', () => {
    const { depths, neededFirst } = depthPasses(18.3, { depthPerPass: 7, upCutLength: 6.35 });
    expect(neededFirst).toBeNull();
    expect(depths[0]).toBeGreaterThan(6.85);
    expect(depthPasses(18.3, { depthPerPass: 6.5, upCutLength: 6.35 }).neededFirst).toBeCloseTo(6.85, 12);
  });

  it('refuse nonsense', () => {
    expect(() => depthPasses(0, { depthPerPass: 6, upCutLength: null })).toThrow(RangeError);
    expect(() => depthPasses(18, { depthPerPass: 0, upCutLength: null })).toThrow(RangeError);
  });
});
