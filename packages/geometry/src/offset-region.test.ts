import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, gridNumber, starRing } from '../test/arbitraries.js';
import { subtractRings } from './booleans.js';
import { flattenRing } from './flatten.js';
import { offsetRegion } from './offset-region.js';
import { offsetRing } from './offset-ring.js';
import { regionArea, ringsOfRegion } from './region.js';
import { circleRing, type Region, type Ring, rectangleRing, reverseRing, ringSegments } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { pointInRing } from './ring-contains.js';
import { pointAlong } from './segment-course.js';
import { pointRingDistance } from './segment-distance.js';
import { moveRing } from './transform.js';

const anyRing = fc.oneof(starRing(), bulgedRing());
const scaled = (r: Ring, k: number, dx: number, dy: number): Ring => ({
  vertices: r.vertices.map((v) => ({ ...v, x: v.x * k + dx, y: v.y * k + dy })),
});

/** A plate with holes: rings strewn over it and taken out, the largest region that is left. */
const plate: fc.Arbitrary<Region> = fc
  .tuple(
    anyRing,
    fc.array(fc.tuple(anyRing, gridNumber(0.05, 0.3), gridNumber(-40, 40), gridNumber(-40, 40)), {
      minLength: 1,
      maxLength: 4,
    }),
  )
  .map(
    ([outer, holes]) =>
      subtractRings(
        [outer],
        holes.map(([r, k, dx, dy]) => scaled(r, k, dx, dy)),
      )[0]!,
  )
  .filter((r) => r !== undefined && regionArea(r) > 5);

const distanceTo = (region: Region, p: { x: number; y: number }): number =>
  Math.min(...ringsOfRegion(region).map((r) => pointRingDistance(r, p)));
const inside = (region: Region, p: { x: number; y: number }): boolean =>
  pointInRing(region.outer, p) === 'inside' && region.holes.every((h) => pointInRing(h, p) === 'outside');
const area = (regions: readonly Region[]): number => regions.reduce((sum, r) => sum + regionArea(r), 0);

describe('offsetRegion', () => {
  it('keeps the distance at every point of the result, on the right side', () => {
    let islands = 0;
    fc.assert(
      fc.property(plate, gridNumber(-6, 6), (region, by) => {
        fc.pre(Math.abs(by) > 0.01);
        const result = offsetRegion(region, { by });
        islands += result.reduce((n, r) => n + r.holes.length, 0);
        for (const s of result.flatMap(ringsOfRegion).flatMap(ringSegments))
          for (const f of [0, 0.25, 0.5, 0.9]) {
            const p = pointAlong(s, f);
            expect(Math.abs(distanceTo(region, p) - Math.abs(by))).toBeLessThan(1e-6);
            expect(inside(region, p)).toBe(by < 0);
          }
      }),
      { numRuns: 250, seed: 51 },
    );
    expect(islands).toBeGreaterThan(40);
  });

  it('covers the area that an independent polygon kernel does', () => {
    const chord = 0.004;
    fc.assert(
      fc.property(plate, gridNumber(-6, 6), (region, by) => {
        fc.pre(Math.abs(by) > 0.01);
        const ours = offsetRegion(region, { by });
        const paths = ringsOfRegion(region).map((r) => flattenRing(r, { tolerance: chord / 10 }));
        const theirs = Clipper.inflatePathsD(paths, by, JoinType.Round, EndType.Polygon, 2, 6, chord);
        const edge = ours.flatMap(ringsOfRegion).reduce((sum, r) => sum + ringPerimeter(r), 0);
        const apart = Clipper.xorD(
          ours.flatMap(ringsOfRegion).map((r) => flattenRing(r, { tolerance: chord })),
          theirs,
          FillRule.NonZero,
          6,
        ).reduce((sum, p) => sum + Clipper.areaD(p), 0);
        expect(apart).toBeLessThan(0.005 + 2 * chord * edge);
      }),
      { numRuns: 150, seed: 52 },
    );
  });

  it('does to a plate without holes what offsetRing does, and nothing for no distance', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(-5, 5), (outer, by) => {
        const rings = offsetRegion({ outer, holes: [] }, { by }).flatMap(ringsOfRegion);
        const plain = offsetRing(outer, { by });
        expect(rings.map(ringArea)).toEqual(plain.map(ringArea));
      }),
      { numRuns: 100, seed: 53 },
    );
    expect(() => offsetRegion({ outer: rectangleRing(0, 0, 1, 1), holes: [] }, { by: Number.NaN })).toThrow(
      RangeError,
    );
  });

  it('parts a plate between its holes, and closes its holes when it grows', () => {
    const outer = rectangleRing(0, 0, 100, 40);
    const holes = [12, 28].map((y) => reverseRing(circleRing({ x: 50, y }, 7)));
    const region = { outer, holes };
    expect(offsetRegion(region, { by: -0.5 })).toHaveLength(1);
    expect(offsetRegion(region, { by: -0.5 })[0]!.holes).toHaveLength(2);
    // The bridge of 2 mm between the holes goes at 1 mm, those of 5 mm to the edges at 2.5 mm.
    expect(offsetRegion(region, { by: -1.5 })[0]!.holes).toHaveLength(1);
    expect(offsetRegion(region, { by: -3 })).toHaveLength(2);
    expect(offsetRegion(region, { by: 7.5 })[0]!.holes).toEqual([]);
    expect(area(offsetRegion(region, { by: 2 }))).toBeCloseTo(
      4000 + 280 * 2 + 4 * Math.PI - 2 * 25 * Math.PI,
      9,
    );
  });

  it('keeps what is inside a hole shaped like a C', () => {
    const c = subtractRings(
      [circleRing({ x: 0, y: 0 }, 30)],
      [circleRing({ x: 0, y: 0 }, 20), rectangleRing(0, -2, 40, 2)],
    );
    expect(c).toHaveLength(1);
    const region = { outer: rectangleRing(-50, -50, 50, 50), holes: [reverseRing(c[0]!.outer)] };
    // Shrunk by more than half of the way in, the middle is an island.
    const shrunk = offsetRegion(region, { by: -3 });
    expect(shrunk).toHaveLength(2);
    // A disc of 17, and where the mouth of the C is, a little more.
    expect(regionArea(shrunk[1]!)).toBeGreaterThan(Math.PI * 17 * 17 + 0.5);
    expect(regionArea(shrunk[1]!)).toBeLessThan(Math.PI * 17 * 17 + 1);
  });

  it('turns and moves with the region', () => {
    fc.assert(
      fc.property(plate, gridNumber(-4, 4), gridNumber(-3, 3), (region, by, turn) => {
        const m = { mirror: false, turn, dx: 300, dy: -200 };
        const there = { outer: moveRing(m, region.outer), holes: region.holes.map((h) => moveRing(m, h)) };
        expect(area(offsetRegion(there, { by }))).toBeCloseTo(area(offsetRegion(region, { by })), 3);
      }),
      { numRuns: 100, seed: 54 },
    );
  });
});
