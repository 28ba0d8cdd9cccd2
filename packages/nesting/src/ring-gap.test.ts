import { circleRing, flattenRing, moveRing, polygonRing, type Ring, ring } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { overlapDepth, reachOutside, ringGap } from './ring-gap.js';

/** A ring of lines and arcs round a star of corners, some edges bulging, some hollow. */
const star: fc.Arbitrary<Ring> = fc
  .array(fc.tuple(fc.integer({ min: 60, max: 100 }), fc.integer({ min: -2, max: 2 })), {
    minLength: 4,
    maxLength: 9,
  })
  .map((spokes) =>
    ring(
      spokes.map(([r, b], i) => {
        const a = (2 * Math.PI * i) / spokes.length;
        return { x: r * Math.cos(a), y: r * Math.sin(a), bulge: b / 10 };
      }),
    ),
  );
const shift = fc.tuple(fc.integer({ min: -300, max: 300 }), fc.integer({ min: -300, max: 300 }));
const moved = (r: Ring, [dx, dy]: readonly [number, number]) =>
  moveRing({ mirror: false, turn: 0, dx, dy }, r);

/** The least distance between two closed polylines, every corner against every edge: no arc in it. */
function polylineDistance(a: Ring, b: Ring): number {
  const p = flattenRing(a, { tolerance: 0.01 });
  const q = flattenRing(b, { tolerance: 0.01 });
  const toEdges = (from: typeof p, to: typeof p) =>
    Math.min(
      ...from.flatMap((c) =>
        to.map((u, i) => {
          const w = to[(i + 1) % to.length]!;
          const l2 = (w.x - u.x) ** 2 + (w.y - u.y) ** 2;
          const t =
            l2 && Math.max(0, Math.min(1, ((c.x - u.x) * (w.x - u.x) + (c.y - u.y) * (w.y - u.y)) / l2));
          return Math.hypot(c.x - u.x - t * (w.x - u.x), c.y - u.y - t * (w.y - u.y));
        }),
      ),
    );
  return Math.min(toEdges(p, q), toEdges(q, p));
}

describe('ringGap', () => {
  it('is the distance between fine polylines, within what flattening costs', () =>
    fc.assert(
      fc.property(star, star, shift, (a, b, by) => {
        const other = moved(b, by);
        const { distance } = ringGap(a, other);
        // Polylines that cross show no distance 0 at their corners.
        if (distance === 0) return;
        expect(Math.abs(distance - polylineDistance(a, other))).toBeLessThan(0.03);
      }),
      { numRuns: 150 },
    ));

  it('is the same for rings of hundreds of edges, which are passed over in runs', () =>
    fc.assert(
      fc.property(star, star, shift, (a, b, by) => {
        // The same curves in many short pieces: lines cut in 20, arcs left as they are.
        const cut = (r: Ring): Ring =>
          ring(
            r.vertices.flatMap((v, i) => {
              const w = r.vertices[(i + 1) % r.vertices.length]!;
              if (v.bulge !== 0) return [v];
              return Array.from({ length: 20 }, (_, k) => ({
                x: v.x + (k / 20) * (w.x - v.x),
                y: v.y + (k / 20) * (w.y - v.y),
                bulge: 0,
              }));
            }),
          );
        const other = moved(b, by);
        const [fine, otherFine] = [cut(a), cut(other)];
        expect(ringGap(fine, otherFine).distance).toBeCloseTo(ringGap(a, other).distance, 9);
        // More corners see more of a depth, never less.
        expect(overlapDepth(fine, otherFine).distance).toBeGreaterThanOrEqual(
          overlapDepth(a, other).distance - 1e-9,
        );
        expect(reachOutside(fine, otherFine).distance).toBeGreaterThanOrEqual(
          reachOutside(a, other).distance - 1e-9,
        );
      }),
      { numRuns: 60 },
    ));

  it('does not care which ring comes first', () =>
    fc.assert(
      fc.property(star, star, shift, (a, b, by) => {
        const other = moved(b, by);
        expect(ringGap(a, other).distance).toBeCloseTo(ringGap(other, a).distance, 9);
      }),
    ));

  it('is exact between two discs and from a disc to a line', () => {
    expect(ringGap(circleRing({ x: 0, y: 0 }, 10), circleRing({ x: 30, y: 40 }, 15)).distance).toBeCloseTo(
      25,
      12,
    );
    const line = polygonRing([
      { x: -100, y: 20 },
      { x: 100, y: 20 },
      { x: 0, y: 90 },
    ]);
    const gap = ringGap(circleRing({ x: 7, y: 0 }, 10), line);
    expect(gap.distance).toBeCloseTo(10, 12);
    expect(gap.at.x).toBeCloseTo(7, 9);
    expect(gap.at.y).toBeCloseTo(15, 9);
  });
});

describe('overlapDepth and reachOutside', () => {
  const square = polygonRing([
    { x: 0, y: 0 },
    { x: 100, y: 0 },
    { x: 100, y: 100 },
    { x: 0, y: 100 },
  ]);
  it('measure the deepest corner', () => {
    expect(overlapDepth(square, moved(square, [90, 80])).distance).toBe(10);
    expect(reachOutside(moved(square, [90, 0]), square).distance).toBe(90);
  });
  it('see nothing where two rings only touch', () => {
    expect(overlapDepth(square, moved(square, [100, 30])).distance).toBe(0);
    expect(overlapDepth(square, moved(square, [100, 100])).distance).toBe(0);
    expect(reachOutside(square, square).distance).toBe(0);
  });
  it('see the same ring twice, and one that shares all its edges but one', () => {
    expect(overlapDepth(square, square).distance).toBe(100);
    const half = polygonRing([
      { x: 0, y: 0 },
      { x: 40, y: 0 },
      { x: 40, y: 100 },
      { x: 0, y: 100 },
    ]);
    expect(overlapDepth(square, half).distance).toBeGreaterThan(0);
  });
  it('agree: what lies in another does not reach out of it', () =>
    fc.assert(
      fc.property(star, (a) => {
        const small: Ring = { vertices: a.vertices.map((v) => ({ ...v, x: v.x / 2, y: v.y / 2 })) };
        const big = circleRing({ x: 0, y: 0 }, 130);
        expect(reachOutside(small, big).distance).toBe(0);
        expect(overlapDepth(small, big).distance).toBeGreaterThan(0);
        expect(reachOutside(big, small).distance).toBeGreaterThan(0);
      }),
    ));
});
