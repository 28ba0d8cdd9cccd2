import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, gridNumber, starRing } from '../test/arbitraries.js';
import { offsetRing } from './offset-ring.js';
import { circleRing, polygonRing, reverseRing, ring } from './ring.js';
import { ringProblems } from './ring-problems.js';
import { moveRing } from './transform.js';

const at = (...xy: readonly (readonly [number, number])[]) => polygonRing(xy.map(([x, y]) => ({ x, y })));
const kinds = (r: Parameters<typeof ringProblems>[0]) => ringProblems(r).map((p) => p.kind);

describe('ringProblems', () => {
  it('finds nothing wrong with rings that are simple by construction, turned and moved anyhow', () => {
    fc.assert(
      fc.property(
        fc.oneof(starRing(), bulgedRing(), combRing),
        gridNumber(-3, 3),
        fc.boolean(),
        (r, turn, mirror) => {
          expect(ringProblems(r)).toEqual([]);
          expect(ringProblems(moveRing({ mirror, turn, dx: 100, dy: -50 }, r))).toEqual([]);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('finds nothing wrong with any offset of them', () => {
    fc.assert(
      fc.property(fc.oneof(starRing(), bulgedRing(), combRing), gridNumber(-12, 12), (r, by) => {
        for (const q of offsetRing(r, { by })) expect(ringProblems(q)).toEqual([]);
      }),
      { numRuns: 600 },
    );
  });

  it('finds the crossing when two neighbouring corners of a convex ring are exchanged', () => {
    fc.assert(
      fc.property(fc.integer({ min: 4, max: 12 }), fc.nat(), gridNumber(-3, 3), (n, k, turn) => {
        const p = Array.from({ length: n }, (_, i) => {
          const a = turn + (2 * Math.PI * i) / n;
          return { x: 50 * Math.cos(a), y: 30 * Math.sin(a) };
        });
        const i = k % n;
        const j = (i + 1) % n;
        [p[i], p[j]] = [p[j]!, p[i]!];
        const found = ringProblems(polygonRing(p)).filter((q) => q.kind === 'self-crossing');
        expect(found).toHaveLength(1);
      }),
    );
  });

  it('names place and segments of a crossing', () => {
    const bow = at([0, 0], [10, 10], [10, 0], [0, 10]);
    expect(ringProblems(bow)).toEqual([
      { kind: 'self-crossing', at: { x: 5, y: 5 }, segments: [[0, 2]] },
      // The two wings of a bow cancel out.
      { kind: 'zero-area', at: { x: 0, y: 0 }, segments: [] },
    ]);
  });

  it('finds a line through an arc, an arc through an arc, and a touch of each kind', () => {
    // An arc that bulges through the opposite side, and one that just touches it.
    const bulging = (depth: number) =>
      ring([
        { x: 0, y: 0, bulge: 0 },
        { x: 20, y: 0, bulge: 0 },
        { x: 20, y: 5, bulge: -depth / 10 },
        { x: 0, y: 5, bulge: 0 },
      ]);
    expect(kinds(bulging(4.9))).toEqual([]);
    expect(kinds(bulging(5))).toEqual(['self-crossing']);
    expect(kinds(bulging(5.1))).toEqual(['self-crossing', 'self-crossing']);
    const lens = ring([
      { x: 0, y: 0, bulge: 0.8 },
      { x: 20, y: 0, bulge: 0 },
      { x: 20, y: 2, bulge: 0.8 },
      { x: 0, y: 2, bulge: 0 },
    ]);
    expect(kinds(lens)).toEqual([]);
    const crossed = ring([
      { x: 0, y: 0, bulge: -0.8 },
      { x: 20, y: 0, bulge: 0 },
      { x: 20, y: 2, bulge: -0.8 },
      { x: 0, y: 2, bulge: 0 },
    ]);
    expect(kinds(crossed).filter((k) => k === 'self-crossing')).toHaveLength(2);
    // A corner that touches a side, and a corner on a corner.
    expect(kinds(at([0, 0], [10, 0], [10, 10], [5, 0], [0, 10]))).toEqual(['self-crossing']);
    expect(kinds(at([0, 0], [5, 5], [10, 0], [10, 10], [5, 5], [0, 10]))).toEqual(['self-crossing']);
  });

  it('finds lines and arcs that run over each other, neighbours or not', () => {
    expect(kinds(at([0, 0], [10, 0], [10, 10], [10, 4], [5, 4]))).toContain('doubled');
    expect(kinds(at([0, 0], [10, 0], [10, 5], [6, 5], [6, 0], [3, 0], [3, 5], [0, 5]))).toContain('doubled');
    const overArc = ring([
      { x: 5, y: 0, bulge: 1 },
      { x: -5, y: 0, bulge: -0.4 },
      { x: 0, y: 5.5, bulge: 0 },
    ]);
    expect(kinds(overArc)).not.toContain('doubled');
    const back = ring([
      { x: 5, y: 0, bulge: 1 },
      { x: -5, y: 0, bulge: -Math.tan(Math.PI / 8) },
      { x: 0, y: 5, bulge: 0 },
      { x: 0, y: -4, bulge: 0 },
    ]);
    expect(kinds(back)).toContain('doubled');
  });

  it('finds rings without area', () => {
    expect(kinds(at([0, 0], [10, 0]))).toEqual(['doubled', 'zero-area']);
    expect(kinds(at([0, 0], [10, 0], [10, 0.0001], [0, 0.0001]))).toEqual(['zero-area']);
    expect(kinds(at([1, 1], [1, 1]))).toEqual(['zero-area']);
    expect(kinds(circleRing({ x: 0, y: 0 }, 3))).toEqual([]);
    expect(kinds(reverseRing(circleRing({ x: 0, y: 0 }, 3)))).toEqual([]);
  });
});
