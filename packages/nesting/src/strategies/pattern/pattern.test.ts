import { polygonRing, type Ring, rectangleRing, ringArea } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../../check-layout.js';
import { seededRandom } from '../../seeded-random.js';
import { seededRun } from '../../ticks.js';
import { lattice } from '../../trial/generate/lattice.js';
import { runTrial } from '../../trial/trial.js';
import { STEPS } from '../outer-polygon.js';
import { layoutOf, searchFor, stageOf } from '../overlap/stage.js';
import { overlapMinimising } from '../overlap-minimising.js';
import { closeCells } from './cells.js';
import { repeated } from './repeat.js';

const copies = (outline: Ring, count: number, turns: readonly number[], spacing = 0): NestingInstance => ({
  items: Array.from({ length: count }, (_, i) => ({ id: `c${i}`, outline, turns, boards: ['b'] })),
  boards: [{ id: 'b', outline: rectangleRing(0, 0, 2000, 300), keepOuts: [] }],
  spacing,
  edgeMargin: spacing,
});
const staged = (instance: NestingInstance) =>
  stageOf(instance, { corners: 4, addedArea: 0 }, seededRun(1, 1e6));

describe('repeated patterns', () => {
  it('two triangles, one turned by half a turn, repeat without a gap', () => {
    const triangle = polygonRing([
      { x: 0, y: 0 },
      { x: 70, y: 10 },
      { x: 20, y: 50 },
    ]);
    const stage = staged(copies(triangle, 10, [0, Math.PI]));
    const [closest] = closeCells(stage.wares, stage.possible[0]!, () => true);
    expect(closest!.area).toBe(ringArea(triangle) * STEPS * STEPS);
    expect(closest!.members).toHaveLength(2);
    // In one turn alone, a triangle takes half as much again: no lattice of triangles covers more than two thirds (I. Fáry 1950, from memory).
    const alone = staged(copies(triangle, 10, [0]));
    const [single] = closeCells(alone.wares, alone.possible[0]!, () => true);
    expect(single!.area / STEPS / STEPS).toBeCloseTo(1.5 * ringArea(triangle), 1);
  });

  it('copies in cells lie as the referee wants them, the spacing kept', () => {
    let laid = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 25, max: 60 }), { minLength: 4, maxLength: 8 }),
        fc.constantFrom(0, 6),
        (spokes, spacing) => {
          const outline = polygonRing(
            spokes.map((r, i) => {
              const a = (2 * Math.PI * i) / spokes.length;
              return { x: Math.round(r * Math.cos(a)), y: Math.round(r * Math.sin(a)) };
            }),
          );
          const instance = copies(outline, 9, [0, Math.PI], spacing);
          const stage = staged(instance);
          for (const { copies: all } of repeated(stage, ['x'], () => true)) {
            const search = searchFor(stage, stage.possible, seededRun(1, 1));
            all.forEach((m, i) => {
              search.now.x[i] = m.x;
              search.now.y[i] = m.y;
              search.now.variant[i] = m.variant;
            });
            const report = checkLayout(instance, layoutOf(stage, { search, arrangement: search.now }));
            expect(report.violations).toEqual([]);
            laid++;
          }
        },
      ),
      { numRuns: 4 },
    );
    expect(laid).toBeGreaterThan(2);
  });

  it('finds the lattice that a problem was made from', () => {
    const options = { name: 'l', cell: [30, 40], columns: 5, rows: 4, depth: 0.25 } as const;
    const { problem } = lattice(options, seededRandom(2));
    const strategy = overlapMinimising as never;
    const { result } = runTrial({
      problem,
      contender: { strategy, options: overlapMinimising.defaults },
      seed: 1,
      budget: { ticks: 800 },
      clock: () => 0,
    });
    expect(result.valid).toBe(true);
    expect(result.density).toBeGreaterThanOrEqual(problem.known!.density! - 1e-9);
  });

  it('has nothing to say where pieces differ or are few', () => {
    const square = rectangleRing(0, 0, 20, 20);
    const few = staged(copies(square, 7, [0]));
    expect(repeated(few, ['x', 'y'], () => true)).toEqual([]);
    const all = copies(square, 9, [0]);
    const mixed = staged({
      ...all,
      items: [...all.items, { ...all.items[0]!, id: 'other', outline: rectangleRing(0, 0, 20, 30) }],
    });
    expect(repeated(mixed, ['x', 'y'], () => true)).toEqual([]);
  });
});
