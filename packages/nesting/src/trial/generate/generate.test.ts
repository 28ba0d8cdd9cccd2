import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../../check-layout.js';
import { seededRandom } from '../../seeded-random.js';
import { lowerBound } from '../bounds.js';
import { commonArea } from '../common-area.js';
import { measureLayout } from '../trial.js';
import { dissect } from './dissect.js';
import { boardJigsaw, type GeneratedProblem, jigsaw, nestedJigsaw, spacedJigsaw } from './jigsaw.js';
import { lattice } from './lattice.js';
import { doubleArea, isInside, segmentsMeet } from './whole-polygon.js';

const seeds = fc.integer({ min: 0, max: 1e6 });
const OPTIONS = { name: 'puzzle', width: 900, height: 400, pieces: 12, turns: 'quarters' } as const;

const judged = ({ problem, layout }: GeneratedProblem) => {
  const report = checkLayout(problem.instance, layout);
  return { report, shared: commonArea(problem.instance, layout), measured: measureLayout(problem, layout) };
};

describe('dissect', () => {
  it('covers the rectangle exactly with simple pieces', () =>
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 25 }), (seed, pieces) => {
        const all = dissect({ width: 300, height: 200, pieces, bends: 3, least: 0.2 }, seededRandom(seed));
        expect(all.length).toBe(pieces);
        expect(all.reduce((s, p) => s + doubleArea(p), 0)).toBe(2 * 300 * 200);
        for (const p of all) {
          expect(doubleArea(p)).toBeGreaterThan(0);
          for (let i = 0; i < p.length; i++)
            for (let j = i + 2; j < p.length && j - i < p.length - 1; j++)
              expect(segmentsMeet(p[i]!, p[i + 1]!, p[j]!, p[(j + 1) % p.length]!)).toBe(false);
        }
      }),
      { numRuns: 12 },
    ));
  it('refuses sizes that are not whole', () => {
    expect(() => dissect({ width: 1.5, height: 2, pieces: 2, bends: 0, least: 0.1 }, () => 0)).toThrow(
      RangeError,
    );
    expect(() => dissect({ width: 10, height: 2, pieces: 2, bends: 0, least: 0.5 }, () => 0)).toThrow(
      RangeError,
    );
  });
  it('knows inside from boundary', () => {
    const square = [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
    ] as const;
    expect([isInside(square, [2, 2]), isInside(square, [4, 2]), isInside(square, [5, 2])]).toEqual([
      true,
      false,
      false,
    ]);
  });
});

describe('problems of known optimum', () => {
  it('a puzzle lies at 100 %, by the referee and by area', () =>
    fc.assert(
      fc.property(seeds, fc.constantFrom('none', 'grain', 'quarters' as const), (seed, turns) => {
        const { report, shared, measured } = judged(jigsaw({ ...OPTIONS, turns }, seededRandom(seed)));
        expect(report.violations).toEqual([]);
        expect(shared).toBe(0);
        expect(measured).toEqual({ length: 900, density: 1 });
      }),
      { numRuns: 10 },
    ));
  it('a puzzle greater than a thousand is scaled, and still lies at 100 %', () => {
    const { report, measured } = judged(jigsaw({ ...OPTIONS, width: 3000, height: 5000 }, seededRandom(3)));
    expect(report.valid).toBe(true);
    expect(measured.length).toBeCloseTo(3000, 6);
  });
  it('boards are as many as by area, and filled', () =>
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 4 }), (seed, boards) => {
        const { report, shared, measured } = judged(boardJigsaw(OPTIONS, boards, seededRandom(seed)));
        expect([report.valid, shared, measured]).toEqual([true, 0, { boards, density: 1 }]);
      }),
      { numRuns: 6 },
    ));
  it('a puzzle with spacing keeps it, and the least gap is the spacing', () =>
    fc.assert(
      fc.property(seeds, (seed) => {
        const made = spacedJigsaw(OPTIONS, 8, seededRandom(seed));
        const { report, measured } = judged(made);
        expect(report.violations).toEqual([]);
        expect(report.leastGap).toBeCloseTo(8, 5);
        expect(measured.length!).toBeLessThanOrEqual(900 + 1e-6);
        expect(measured.density).toBeGreaterThan(0.5);
      }),
      { numRuns: 6 },
    ));
  it('a puzzle with pieces in the holes of pieces lies at 100 %, and only with them there', () => {
    let most = 0;
    fc.assert(
      fc.property(seeds, fc.constantFrom('none', 'quarters' as const), (seed, turns) => {
        const made = nestedJigsaw({ ...OPTIONS, pieces: 5, turns }, 2, seededRandom(seed));
        const { report, shared, measured } = judged(made);
        expect([report.violations, shared, measured]).toEqual([[], 0, { length: 900, density: 1 }]);
        const { instance } = made.problem;
        // Chance finds no room for a hole in some pieces, in one puzzle of two hundred in all but one.
        const holed = instance.items.filter((i) => i.holes).length;
        most = Math.max(most, holed);
        expect(lowerBound(made.problem).value).toBeLessThanOrEqual(900);
        // The same layout of the same outlines without their holes overlaps: the holes are what it lives on.
        const solid = { ...instance, items: instance.items.map(({ holes: _, ...i }) => i) };
        expect(checkLayout(solid, made.layout).valid).toBe(holed === 0);
      }),
      { numRuns: 8 },
    );
    expect(most).toBeGreaterThan(2);
  });
  it('a lattice lies without a gap', () =>
    fc.assert(
      fc.property(seeds, (seed) => {
        const o = { name: 'tiles', cell: [60, 45], columns: 5, rows: 4, depth: 0.25 } as const;
        const { report, shared, measured } = judged(lattice(o, seededRandom(seed)));
        expect([report.violations, shared, report.leastGap]).toEqual([[], 0, 0]);
        // Twenty cells of 60 × 45: the shape has the area of its cell.
        expect(lattice(o, seededRandom(seed)).problem.itemArea).toBeCloseTo(20 * 60 * 45, 6);
        expect(measured.density).toBeGreaterThan(0.6);
      }),
      { numRuns: 10 },
    ));
  it('is the same for the same seed', () =>
    expect(jigsaw(OPTIONS, seededRandom(9))).toEqual(jigsaw(OPTIONS, seededRandom(9))));
});
