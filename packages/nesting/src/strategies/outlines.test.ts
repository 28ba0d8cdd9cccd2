import {
  flattenRing,
  loadClip,
  moveRing,
  type Point,
  pointInRing,
  type Ring,
  ring,
  ringArea,
} from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull, convexPieces } from './convex-pieces.js';
import { brush, convexSum } from './minkowski.js';
import { isForbidden, noFit } from './no-fit.js';
import { doubleArea, type GridPolygon, outerPolygon, outerPolygonOf, STEPS } from './outer-polygon.js';
import { halfTurned, shapeOf } from './shape.js';
import { simplifyOutward } from './simplify-outward.js';

const clip = await loadClip();

/** Rings of lines and arcs on the grid, seldom convex, never crossing themselves. */
const star = (scale: number): fc.Arbitrary<Ring> =>
  fc
    .array(fc.tuple(fc.integer({ min: 40, max: 100 }), fc.integer({ min: -1, max: 2 })), {
      minLength: 4,
      maxLength: 12,
    })
    .map((spokes) =>
      ring(
        spokes.map(([r, b], i) => {
          const a = (2 * Math.PI * i) / spokes.length;
          const grid = (v: number) => Math.round(v * scale * STEPS) / STEPS;
          return { x: grid(r * Math.cos(a)), y: grid(r * Math.sin(a)), bulge: b / 20 };
        }),
      ),
    );
const corners = (p: GridPolygon): Point[] =>
  Array.from({ length: p.length / 2 }, (_, i) => ({ x: p[2 * i]! / STEPS, y: p[2 * i + 1]! / STEPS }));
const area = (polygons: readonly (readonly Point[])[]): number =>
  polygons.reduce(
    (sum, p) => sum + (p.length < 2 ? 0 : ringArea({ vertices: p.map((v) => ({ ...v, bulge: 0 })) })),
    0,
  );
/** The area of a that b does not cover, mm². */
const uncovered = (a: readonly (readonly Point[])[], b: readonly (readonly Point[])[]): number =>
  area(clip.difference(a, b));
const turn = fc.constantFrom(0, Math.PI / 2, 1, 2.5);
const limit = { corners: 4, addedArea: 0.05 };
/** Areas of rounding: a perimeter of about 1 m, half a step wide. */
const ROUNDING_AREA = 0.05;

describe('an outer polygon', () => {
  it('covers its ring, and little more', () =>
    fc.assert(
      fc.property(star(3), turn, (r, t) => {
        const turned = moveRing({ mirror: false, turn: t, dx: 0, dy: 0 }, r);
        const { corners: p } = outerPolygonOf(turned);
        const fine = flattenRing(turned, { tolerance: 0.001 });
        // Chords of a hollow arc lie in the air by up to 0.001, and a turned corner is rounded by up to 0.00007.
        const shrunk = clip.grow([fine], -0.0011, 0.0001);
        expect(uncovered(shrunk, [corners(p)])).toBe(0);
        const extra = clip.difference([corners(p)], clip.grow([fine], 0.06, 0.001));
        expect(area(extra)).toBe(0);
      }),
      { numRuns: 60 },
    ));

  it('of a clockwise ring covers what is outside it', () =>
    fc.assert(
      fc.property(star(3), (r) => {
        const hole = outerPolygon({
          vertices: [...moveRing({ mirror: true, turn: 0, dx: 0, dy: 0 }, r).vertices],
        });
        const inside = outerPolygon(reversed(r));
        expect(doubleArea(hole.corners)).toBeGreaterThan(0);
        expect(doubleArea(inside.corners)).toBeLessThan(0);
        const fine = clip.grow([flattenRing(r, { tolerance: 0.001 })], 0.0015, 0.0005);
        expect(uncovered([corners(inside.corners).reverse()], fine)).toBeLessThan(1e-9);
      }),
      { numRuns: 40 },
    ));

  it('covers its ring after coarsening, within the area allowed and the box round it', () =>
    fc.assert(
      fc.property(star(3), (r) => {
        const outer = outerPolygonOf(r);
        const coarse = simplifyOutward(outer, limit);
        expect(uncovered([corners(outer.corners)], [corners(coarse.corners)])).toBeLessThan(1e-9);
        expect(coarse.inexact).toBe(outer.inexact);
        expect(doubleArea(coarse.corners)).toBeLessThanOrEqual(doubleArea(outer.corners) * 1.0501);
        const xs = (p: GridPolygon) => p.filter((_, i) => i % 2 === 0);
        expect(Math.max(...xs(coarse.corners))).toBeLessThanOrEqual(Math.max(...xs(outer.corners)));
        expect(Math.min(...xs(coarse.corners))).toBeGreaterThanOrEqual(Math.min(...xs(outer.corners)));
      }),
      { numRuns: 60 },
    ));
});

const reversed = (r: Ring): Ring => {
  const back = moveRing({ mirror: true, turn: 0, dx: 0, dy: 0 }, r);
  return { vertices: back.vertices.map((v) => ({ ...v, x: -v.x, bulge: -v.bulge })) };
};

const isConvex = (p: GridPolygon): boolean => doubleArea(convexHull(p)) === doubleArea(p);

describe('convex pieces', () => {
  it('are convex and cover the polygon exactly', () =>
    fc.assert(
      fc.property(star(3), (r) => {
        const p = outerPolygonOf(r).corners;
        const pieces = convexPieces(p);
        expect(pieces.every(isConvex)).toBe(true);
        expect(pieces.reduce((sum, q) => sum + doubleArea(q), 0)).toBe(doubleArea(p));
        expect(uncovered([corners(p)], pieces.map(corners))).toBeLessThan(1e-9);
      }),
      { numRuns: 100 },
    ));

  it('of an outline that crosses itself are its hull', () =>
    expect(convexPieces([0, 0, 100, 100, 100, 0, 0, 120])).toEqual([[0, 0, 100, 0, 100, 100, 0, 120]]));
});

describe('sums of convex polygons', () => {
  const convex = fc
    .array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 })), {
      minLength: 4,
      maxLength: 10,
    })
    .map((points) => convexHull(points.flat()))
    .filter((p) => doubleArea(p) > 0);
  it('are the hull of the sums of their corners', () =>
    fc.assert(
      fc.property(convex, convex, (a, b) => {
        const all: number[] = [];
        for (let i = 0; i < a.length; i += 2)
          for (let j = 0; j < b.length; j += 2) all.push(a[i]! + b[j]!, a[i + 1]! + b[j + 1]!);
        const hull = convexHull(all);
        const sum = convexSum(a, b);
        expect(doubleArea(sum)).toBe(doubleArea(hull));
        expect(sum.length).toBe(hull.length);
      }),
    ));

  it.each([1, 50_000, 12_345.5])('the brush of %s steps covers its disc within 2 % and a step', (r) => {
    const p = brush(r);
    expect(isConvex(p)).toBe(true);
    for (let k = 0; k < 360; k++) {
      const a = (k * Math.PI) / 180;
      const reach = Math.max(...corners(p).map((c) => (c.x * Math.cos(a) + c.y * Math.sin(a)) * STEPS));
      expect(reach).toBeGreaterThanOrEqual(r);
      expect(reach).toBeLessThanOrEqual(Math.ceil(r) * 1.0197 + 1.5);
    }
  });
});

describe('a no-fit polygon', () => {
  it('forbids exactly the places where the polygon kernel finds a common area', () =>
    fc.assert(
      fc.property(
        star(0.1),
        star(0.1),
        fc.array(
          fc.tuple(fc.integer({ min: -200_000, max: 200_000 }), fc.integer({ min: -200_000, max: 200_000 })),
          {
            minLength: 20,
            maxLength: 20,
          },
        ),
        (a, b, places) => {
          const A = convexPieces(outerPolygonOf(a).corners);
          const B = convexPieces(outerPolygonOf(b).corners);
          const f = noFit(A, B);
          const onBorder = Array.from({ length: Math.min(10, f.edges.length / 4) }, (_, i) => [
            f.edges[4 * i]!,
            f.edges[4 * i + 1]!,
          ]);
          for (const [x, y] of places) {
            const moved = B.map((p) => corners(p).map((c) => ({ x: c.x + x / STEPS, y: c.y + y / STEPS })));
            const common = area(clip.intersection(A.map(corners), moved));
            // What two polygons share when they overlap by less than a step is below this.
            if (common > 1e-6) expect(isForbidden(f, x, y)).toBe(true);
            if (common === 0) expect(isForbidden(f, x, y)).toBe(false);
          }
          for (const [x, y] of onBorder) {
            const moved = B.map((p) => corners(p).map((c) => ({ x: c.x + x! / STEPS, y: c.y + y! / STEPS })));
            expect(area(clip.intersection(A.map(corners), moved))).toBeLessThan(ROUNDING_AREA);
          }
        },
      ),
      { numRuns: 60 },
    ));

  it('of two rectangles is one rectangle, its edges free', () => {
    const f = noFit([[0, 0, 30, 0, 30, 20, 0, 20]], [[0, 0, 10, 0, 10, 5, 0, 5]]);
    expect(f.box).toEqual([-10, -5, 30, 20]);
    expect(f.edges.length).toBe(16);
    expect([
      isForbidden(f, 30, 0),
      isForbidden(f, 29, 0),
      isForbidden(f, -10, 3),
      isForbidden(f, -9, -4),
    ]).toEqual([false, true, false, true]);
  });
});

describe('a shape', () => {
  it('covers its outline by half of the spacing, in any turn', () =>
    fc.assert(
      fc.property(star(3), turn, (r, t) => {
        const s = shapeOf(r, t, 10, limit, true);
        const ringThere = moveRing(
          { mirror: false, turn: t, dx: -s.cornerX / STEPS, dy: -s.cornerY / STEPS },
          r,
        );
        const fine = [flattenRing(ringThere, { tolerance: 0.001 })];
        expect(uncovered(clip.grow(fine, -0.0011, 0.0001), s.bare.map(corners))).toBeLessThan(1e-9);
        expect(uncovered(clip.grow(fine, 5 - 0.0011, 0.0005), s.grown.map(corners))).toBeLessThan(1e-9);
        for (const p of fine[0]!) {
          expect(p.x * STEPS).toBeGreaterThanOrEqual(-0.01);
          expect(p.y * STEPS).toBeLessThanOrEqual(s.height + 0.01);
        }
      }),
      { numRuns: 40 },
    ));

  it('of a rectangle with half of the spacing round it is a rectangle', () => {
    const r = {
      vertices: [0, 0, 300, 0, 300, 200, 0, 200].flatMap((v, i, all) =>
        i % 2 ? [] : [{ x: v, y: all[i + 1]!, bulge: 0 }],
      ),
    };
    const s = shapeOf(r, Math.PI / 2, 10, limit, true);
    expect(s.grown.map((p) => [doubleArea(p) / 2 / STEPS ** 2, p.length])).toEqual([[310 * 210, 8]]);
    expect(pointInRing(r, { x: 1, y: 1 })).toBe('inside');
  });

  it('reads the same for a rectangle turned by half a turn', () => {
    const r = {
      vertices: [0, 0, 300, 0, 300, 200, 0, 200].flatMap((v, i, all) =>
        i % 2 ? [] : [{ x: v, y: all[i + 1]!, bulge: 0 }],
      ),
    };
    expect(shapeOf(r, 0, 10, limit, true).key).toBe(shapeOf(r, Math.PI, 10, limit, true).key);
  });
});

describe('a shape turned by half a turn', () => {
  it('lies where the outline turned so lies, and is as large', () => {
    fc.assert(
      fc.property(star(1), fc.constantFrom(0, Math.PI / 2, 0.3), (r, turn) => {
        const coarseness = { corners: 4, addedArea: 0.03, hull: true };
        const at = (t: number) => shapeOf(r, t, 2, coarseness, false);
        const [half, there] = [halfTurned(at(turn)), at(turn + Math.PI)];
        expect([half.cornerX, half.cornerY, half.width, half.height]).toEqual([
          there.cornerX,
          there.cornerY,
          there.width,
          there.height,
        ]);
        expect(half.outline.length).toBeGreaterThanOrEqual(6);
        // What lies in the turned outline lies in it.
        const outer = half.grown[0]!;
        const turned = moveRing({ mirror: false, turn: turn + Math.PI, dx: 0, dy: 0 }, r);
        const sides = corners(outerPolygonOf(turned).corners).flatMap((c) =>
          corners(outer).map((p, i, all) => {
            const q = all[(i + 1) % all.length]!;
            const [x, y] = [c.x - half.cornerX / STEPS - p.x, c.y - half.cornerY / STEPS - p.y];
            return (q.x - p.x) * y - (q.y - p.y) * x;
          }),
        );
        expect(Math.min(...sides)).toBeGreaterThan(0);
      }),
      { numRuns: 10 },
    );
  });
});
