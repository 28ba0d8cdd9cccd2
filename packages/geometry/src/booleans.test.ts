import { Clipper, FillRule } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, convexPolygon, gridNumber, starRing } from '../test/arbitraries.js';
import { intersectRings, subtractRings, unionRings } from './booleans.js';
import { flattenRing } from './flatten.js';
import { offsetRing } from './offset-ring.js';
import { regionArea, ringsOfRegion } from './region.js';
import {
  circleRing,
  polygonRing,
  type Region,
  type Ring,
  rectangleRing,
  reverseRing,
  ringSegments,
} from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { ringProblems } from './ring-problems.js';
import { fractionAlong, pointAlong } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { moveRing } from './transform.js';

const CHORD = 0.0005;
const area = (regions: readonly Region[]): number => regions.reduce((sum, r) => sum + regionArea(r), 0);
const flat = (rings: readonly Ring[]) => rings.map((r) => flattenRing(r, { tolerance: CHORD }));
const theirs = (paths: { x: number; y: number }[][]): number =>
  paths.reduce((sum, p) => sum + Clipper.areaD(p), 0);
const lengthOf = (rings: readonly Ring[]): number => rings.reduce((sum, r) => sum + ringPerimeter(r), 0);

/** Rounded: what is left of a ring after its corners were taken off by a cutter, in and out. */
const roundedRing = fc
  .tuple(starRing({ min: 3, max: 9 }), gridNumber(0.5, 4))
  .map(([r, by]) => offsetRing(offsetRing(r, { by })[0]!, { by: -by / 2 })[0]!);
const anyRing = fc.oneof(starRing(), bulgedRing(), combRing, convexPolygon.map(polygonRing), roundedRing);

const placed = fc
  .tuple(anyRing, gridNumber(-70, 70), gridNumber(-70, 70), gridNumber(-3, 3), gridNumber(0.1, 1))
  .map(([r, dx, dy, turn, scale]) =>
    moveRing(
      { mirror: false, turn, dx, dy },
      { vertices: r.vertices.map((v) => ({ ...v, x: v.x * scale, y: v.y * scale })) },
    ),
  );

/** Regions bounded well: rings simple, outer ones counter-clockwise, holes clockwise and in place. */
function wellMade(regions: readonly Region[]): void {
  for (const { outer, holes } of regions) {
    expect(ringArea(outer)).toBeGreaterThan(0);
    for (const h of holes) expect(ringArea(h)).toBeLessThan(0);
    // Rings may touch themselves in points, which counts as a crossing there; they never run over themselves.
    for (const r of [outer, ...holes])
      expect(ringProblems(r).filter((p) => p.kind !== 'self-crossing')).toEqual([]);
  }
}

describe('unionRings, subtractRings, intersectRings', () => {
  it('cover the areas that an independent polygon kernel finds', () => {
    const seen = { cross: 0, apart: 0 };
    fc.assert(
      fc.property(
        fc.array(placed, { minLength: 1, maxLength: 3 }),
        fc.array(placed, { minLength: 1, maxLength: 3 }),
        (a, b) => {
          const [p, q] = [flat(a), flat(b)];
          // Chords leave a sliver of two thirds of the tolerance along every arc.
          const doubt = 1e-4 + CHORD * lengthOf([...a, ...b]);
          const u = unionRings([...a, ...b]);
          const d = subtractRings(a, b);
          const i = intersectRings(a, b);
          for (const regions of [u, d, i]) wellMade(regions);
          expect(Math.abs(area(u) - theirs(Clipper.unionD(p, q, FillRule.NonZero, 6)))).toBeLessThan(doubt);
          expect(Math.abs(area(d) - theirs(Clipper.differenceD(p, q, FillRule.NonZero, 6)))).toBeLessThan(
            doubt,
          );
          expect(Math.abs(area(i) - theirs(Clipper.intersectD(p, q, FillRule.NonZero, 6)))).toBeLessThan(
            doubt,
          );
          seen[area(i) > 0 ? 'cross' : 'apart']++;
        },
      ),
      { numRuns: 700, seed: 41 },
    );
    expect(seen.cross).toBeGreaterThan(300);
    expect(seen.apart).toBeGreaterThan(30);
  });

  it('keep the sums of areas exactly: A = (A−B) + (A∩B), A∪B = (A−B) + (A∩B) + (B−A)', () => {
    fc.assert(
      fc.property(placed, placed, (a, b) => {
        const whole = area(unionRings([a]));
        expect(whole).toBeCloseTo(Math.abs(ringArea(a)), 6);
        const common = area(intersectRings([a], [b]));
        expect(area(subtractRings([a], [b])) + common).toBeCloseTo(whole, 4);
        expect(area(unionRings([a, b]))).toBeCloseTo(
          area(subtractRings([a], [b])) + common + area(subtractRings([b], [a])),
          4,
        );
        expect(area(intersectRings([b], [a]))).toBeCloseTo(common, 4);
        expect(area(unionRings([reverseRing(a)]))).toBeCloseTo(whole, 6);
      }),
      { numRuns: 700, seed: 42 },
    );
  });

  it('are made of pieces of the input, tags and all', () => {
    fc.assert(
      fc.property(placed, placed, (a, b) => {
        const tagged = [a, b].map(
          (r, k): Ring => ({ vertices: r.vertices.map((v, i) => ({ ...v, tag: `${k}.${i}` })) }),
        );
        const sources = new Map(tagged.flatMap(ringSegments).map((s) => [s.tag, s] as const));
        for (const regions of [
          unionRings(tagged),
          subtractRings([tagged[0]!], [tagged[1]!]),
          intersectRings([tagged[0]!], [tagged[1]!]),
        ])
          for (const s of regions.flatMap(ringsOfRegion).flatMap(ringSegments)) {
            const source = sources.get(s.tag)!;
            for (const f of [0, 0.3, 0.5, 0.8, 1])
              expect(pointSegmentDistance(source, pointAlong(s, f))).toBeLessThan(1e-6);
            expect(fractionAlong(source, s.from)).not.toBe(fractionAlong(source, s.to));
          }
      }),
      { numRuns: 300, seed: 43 },
    );
  });

  it('stay exact where edges run over each other and corners touch: cells of a coarse grid', () => {
    // Rectangles and circles of whole numbers share edges, corners and tangents all the time.
    const whole = fc.integer({ min: 0, max: 6 });
    const size = fc.integer({ min: 1, max: 4 });
    const block = fc.tuple(whole, whole, size, size).map(([x, y, w, h]) => rectangleRing(x, y, x + w, y + h));
    const shape = fc.oneof(
      { weight: 3, arbitrary: block },
      fc.tuple(whole, whole, fc.integer({ min: 1, max: 2 })).map(([x, y, r]) => circleRing({ x, y }, r)),
    );
    const shapes = fc.array(shape, { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(shapes, shapes, (a, b) => {
        const [p, q] = [flat(a), flat(b)];
        const doubt = 1e-4 + CHORD * lengthOf([...a, ...b].filter((r) => r.vertices[0]!.bulge !== 0));
        for (const [ours, other] of [
          [unionRings([...a, ...b]), Clipper.unionD(p, q, FillRule.NonZero, 6)],
          [subtractRings(a, b), Clipper.differenceD(p, q, FillRule.NonZero, 6)],
          [intersectRings(a, b), Clipper.intersectD(p, q, FillRule.NonZero, 6)],
        ] as const) {
          wellMade(ours);
          expect(Math.abs(area(ours) - theirs(other))).toBeLessThan(doubt);
        }
      }),
      { numRuns: 1500, seed: 44 },
    );
  });

  it('agree for two shapes turned together, one cut out of the other along a common edge', () => {
    fc.assert(
      fc.property(
        anyRing,
        gridNumber(-3, 3),
        gridNumber(-900, 900),
        gridNumber(0.3, 5),
        (r, turn, dx, by) => {
          const a = moveRing({ mirror: false, turn, dx, dy: 2 * dx }, r);
          expect(area(subtractRings([a], [a]))).toBe(0);
          expect(area(intersectRings([a], [a]))).toBeCloseTo(Math.abs(ringArea(a)), 6);
          // A frame round the ring, its hole filled again by the ring: one region, without a hole of its own.
          const grown = offsetRing(a, { by });
          const frame = subtractRings(grown, [a]);
          expect(frame.reduce((n, f) => n + f.holes.length, 0)).toBe(grown.length);
          const filled = unionRings([...frame.flatMap(ringsOfRegion), a]);
          expect(filled).toHaveLength(1);
          expect(area(filled)).toBeCloseTo(
            grown.reduce((sum, g) => sum + ringArea(g), 0),
            5,
          );
        },
      ),
      { numRuns: 300, seed: 45 },
    );
  });

  it('give a square with a bite of a circle, true to the arc', () => {
    const [bitten, ...rest] = subtractRings([rectangleRing(0, 0, 10, 10)], [circleRing({ x: 10, y: 5 }, 3)]);
    expect(rest).toEqual([]);
    expect(bitten!.holes).toEqual([]);
    expect(regionArea(bitten!)).toBeCloseTo(100 - (Math.PI * 9) / 2, 9);
    const arcs = ringSegments(bitten!.outer).filter((s) => s.kind === 'arc');
    expect(arcs.reduce((sum, s) => sum + s.sweep, 0)).toBeCloseTo(-Math.PI, 9);
    // The lens of two unit circles one apart: 2π/3 − √3/2 (textbook formula).
    const lens = intersectRings([circleRing({ x: 0, y: 0 }, 1)], [circleRing({ x: 1, y: 0 }, 1)]);
    expect(area(lens)).toBeCloseTo((2 * Math.PI) / 3 - Math.sqrt(3) / 2, 9);
    expect(lens[0]!.outer.vertices.length).toBeLessThanOrEqual(4);
  });

  it('keep two parts that touch in a point apart, and give a hole to the least region round it', () => {
    const touching = unionRings([rectangleRing(0, 0, 5, 5), rectangleRing(5, 5, 9, 9)]);
    expect(touching.map((r) => regionArea(r))).toEqual([25, 16]);
    const nest = [20, 16, 12, 8].map((h) => circleRing({ x: 0, y: 0 }, h));
    const rings = [nest[0]!, reverseRing(nest[1]!), nest[2]!, reverseRing(nest[3]!)];
    const regions = unionRings(rings);
    expect(regions.map((r) => r.holes.length)).toEqual([1, 1]);
    expect(regions.map(regionArea)).toEqual([
      expect.closeTo(Math.PI * 144, 6),
      expect.closeTo(Math.PI * 80, 6),
    ]);
    expect(unionRings([])).toEqual([]);
  });
});
