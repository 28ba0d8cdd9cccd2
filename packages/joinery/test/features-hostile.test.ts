import { moveRing, type Ring, rectangleRing, ring, ringArea, ringProblems, snap } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findThickness, learnFromTwo, recogniseFeatures, refitByFeatures } from '../src/index.js';
import { valueIn } from './demo.js';
import { partOf } from './features-pieces.js';

/** Any curve at all on a coarse grid, so that walls are parallel, doubled, collinear and crossing again and again. */
const anyRing: fc.Arbitrary<Ring> = fc
  .array(
    fc.record({
      x: fc.integer({ min: 0, max: 12 }).map((n) => n * 9),
      y: fc.integer({ min: 0, max: 12 }).map((n) => n * 9),
      bulge: fc.constantFrom(0, 0, 0, 0, 1, -1, 0.4142, -0.4142),
    }),
    { minLength: 2, maxLength: 24 },
  )
  .map((v) => ring(v));

const anyPart = (id: string): fc.Arbitrary<Part> =>
  fc
    .tuple(anyRing, fc.array(anyRing, { maxLength: 3 }))
    .map(([outline, cuts]) => partOf(id, outline, cuts, 18));

describe('any drawing at all', () => {
  it('is recognised and refitted, or refused with places, never thrown at', () =>
    fc.assert(
      fc.property(
        fc.tuple(anyPart('A'), anyPart('B')),
        fc.constantFrom(17.3, 18, 19, 30, 6.5),
        (parts, to) => {
          findThickness(parts);
          const table = valueIn(recogniseFeatures(parts, { thicknesses: [18, 9] }));
          for (const f of table.features) {
            expect(f.confidence).toBeGreaterThanOrEqual(0);
            expect(f.sides[0].length * f.sides[1].length).toBeGreaterThan(0);
          }
          const outcome = refitByFeatures(parts, table, [
            { from: 18, to },
            { from: 9, to: to / 2 },
          ]);
          if (!outcome.ok) for (const d of outcome.diagnostics) expect(d.locus.part).toMatch(/^[AB]$/);
          else
            outcome.value.parts.forEach((p, i) => {
              // What was sound stays sound.
              if (ringProblems(parts[i]!.outline.ring).length === 0)
                expect(ringProblems(p.outline.ring)).toEqual([]);
              for (const v of p.outline.ring.vertices)
                expect(Number.isFinite(v.x + v.y + v.bulge)).toBe(true);
            });
          learnFromTwo({ parts, thickness: 18 }, { parts: [...parts].reverse(), thickness: 17 });
        },
      ),
      { numRuns: 400 },
    ));
});

describe('a sheet far from the drawn one', () => {
  it('is refused by name beyond three times, either way, and not at three times', () => {
    const part = partOf('A', rectangleRing(0, 0, 900, 900), [rectangleRing(300, 300, 500, 318)], 18);
    const table = valueIn(recogniseFeatures([part], { thicknesses: [18] }));
    const codes = (to: number): string[] => refitByFeatures([part], table, to).diagnostics.map((d) => d.code);
    expect([54, 6, 17.4].map(codes)).toEqual([[], [], []]);
    expect([54.1, 90, 5.9].map(codes)).toEqual([
      ['features/too-far'],
      ['features/too-far'],
      ['features/too-far'],
    ]);
    const [said] = refitByFeatures([part], table, 90).diagnostics;
    expect([said!.locus.part, said!.locus.feature]).toEqual(['A', table.features[0]!.id]);
    expect(said!.message).toContain('90 mm is 5 times that');
  });
});

it('a housing that ends at the edge of a part lying askew is refitted, whatever the grid does to its corners', () => {
  const onGrid = (r: Ring): Ring => ring(r.vertices.map((v) => ({ ...v, x: snap(v.x), y: snap(v.y) })));
  for (let turn = 0; turn < 6; turn += 0.588) {
    const motion = { mirror: false, turn, dx: 2689.5, dy: 317.4 };
    const board = partOf('A', onGrid(moveRing(motion, rectangleRing(0, 0, 250, 600))), [], 15);
    const edge = onGrid(moveRing(motion, rectangleRing(0, 200, 200, 215.2)));
    const part: Part = {
      ...board,
      pockets: [{ id: 'A.p1', ring: edge, bare: edge, reliefs: [], depth: 5, face: 'n+' }],
    };
    const table = valueIn(recogniseFeatures([part], { thicknesses: [15] }));
    const [after] = valueIn(refitByFeatures([part], table, 14.4)).parts;
    expect(Math.abs(ringArea(after!.pockets[0]!.ring))).toBeCloseTo(200 * 14.6, 0);
  }
});
