import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, convexPolygon, gridNumber, starRing } from '../test/arbitraries.js';
import { flattenRing } from './flatten.js';
import { offsetCentrelines, offsetRing } from './offset-ring.js';
import type { Point } from './point.js';
import {
  bulgeOfSegment,
  circleRing,
  polygonRing,
  type Ring,
  rectangleRing,
  reverseRing,
  ring,
  ringSegments,
  snapRing,
  sweepAround,
  type Vertex,
} from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { ringProblems } from './ring-problems.js';
import { pointAlong } from './segment-course.js';
import { pointRingDistance } from './segment-distance.js';

const anyRing = fc.oneof(starRing(), bulgedRing(), combRing);

const areaOf = (rings: readonly Ring[]): number => rings.reduce((sum, r) => sum + ringArea(r), 0);

/** The greatest miss of the promised distance over points spread along the result. */
function worstMiss(source: Ring, result: readonly Ring[], by: number): number {
  let worst = 0;
  for (const r of result)
    for (const s of ringSegments(r))
      for (const f of [0, 0.1, 0.25, 0.5, 0.77, 0.9])
        worst = Math.max(worst, Math.abs(pointRingDistance(source, pointAlong(s, f)) - Math.abs(by)));
  return worst;
}

/** Σ over the corners of a polygon of cot(θ/2), θ its interior angle. */
function cotSum(p: readonly Point[]): number {
  return p.reduce((sum, b, i) => {
    const a = p[(i + p.length - 1) % p.length]!;
    const c = p[(i + 1) % p.length]!;
    const theta = Math.acos(
      ((a.x - b.x) * (c.x - b.x) + (a.y - b.y) * (c.y - b.y)) /
        (Math.hypot(a.x - b.x, a.y - b.y) * Math.hypot(c.x - b.x, c.y - b.y)),
    );
    return sum + 1 / Math.tan(theta / 2);
  }, 0);
}

describe('offsetRing', () => {
  it('keeps the distance at every point of the result, within a millionth of a millimetre', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(-12, 12), (r, by) => {
        fc.pre(by !== 0);
        expect(worstMiss(r, offsetRing(r, { by }), by)).toBeLessThan(1e-6);
      }),
      { numRuns: 600 },
    );
  });

  it('covers the same area as an independent polygon kernel does, within the chords', () => {
    const chord = 0.002;
    fc.assert(
      fc.property(anyRing, gridNumber(-12, 12), (r, by) => {
        fc.pre(Math.abs(by) > 0.01);
        const ours = offsetRing(r, { by }).map((q) => flattenRing(q, { tolerance: chord }));
        const theirs = Clipper.inflatePathsD(
          [flattenRing(r, { tolerance: chord / 10 })],
          by,
          JoinType.Round,
          EndType.Polygon,
          2,
          6,
          chord,
        );
        const apart = Clipper.xorD(ours, theirs, FillRule.NonZero, 6);
        const edge = [...ours, ...theirs].reduce(
          (sum, p) =>
            sum +
            p.reduce(
              (l, a, i) => l + Math.hypot(a.x - p[(i + 1) % p.length]!.x, a.y - p[(i + 1) % p.length]!.y),
              0,
            ),
          0,
        );
        const total = apart.reduce((sum, p) => sum + Clipper.areaD(p), 0);
        expect(Math.abs(total)).toBeLessThanOrEqual(edge * chord * 1.1 + 1e-4);
      }),
      { numRuns: 150 },
    );
  });

  it("obeys Steiner's formulas outside convex rings: A + P d + π d², P + 2π d", () => {
    fc.assert(
      fc.property(convexPolygon, gridNumber(0.001, 30), (p, by) => {
        const r = polygonRing(p);
        const [grown, ...more] = offsetRing(r, { by });
        expect(more).toEqual([]);
        const P = ringPerimeter(r);
        expect(ringArea(grown!)).toBeCloseTo(ringArea(r) + P * by + Math.PI * by * by, 6);
        expect(ringPerimeter(grown!)).toBeCloseTo(P + 2 * Math.PI * by, 7);
      }),
    );
  });

  it('obeys A − P d + d² Σcot(θ/2) inside convex polygons as long as no side vanishes', () => {
    fc.assert(
      fc.property(convexPolygon, gridNumber(0.001, 8), (p, d) => {
        const r = polygonRing(p);
        const [shrunk] = offsetRing(r, { by: -d });
        fc.pre(shrunk?.vertices.length === p.length);
        expect(ringArea(shrunk!)).toBeCloseTo(ringArea(r) - ringPerimeter(r) * d + d * d * cotSum(p), 6);
      }),
    );
  });

  it('gives a convex ring back when it is grown and then shrunk', () => {
    fc.assert(
      fc.property(convexPolygon, gridNumber(0.01, 20), (p, by) => {
        const there = offsetRing(polygonRing(p), { by });
        const [back, ...more] = offsetRing(there[0]!, { by: -by });
        expect(more).toEqual([]);
        // Corners stand for themselves: each arc round one shrinks to nothing.
        expect(back!.vertices.length).toBe(p.length);
        for (const v of back!.vertices)
          expect(Math.min(...p.map((q) => Math.hypot(q.x - v.x, q.y - v.y)))).toBeLessThan(1e-6);
      }),
    );
  });

  it('does not care which way the input runs', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(-12, 12), (r, by) => {
        const one = offsetRing(r, { by });
        const other = offsetRing(reverseRing(r), { by });
        expect(other.length).toBe(one.length);
        expect(areaOf(other)).toBeCloseTo(areaOf(one), 5);
      }),
      { numRuns: 200 },
    );
  });

  it('grows in two steps as in one', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(0.1, 6), gridNumber(0.1, 6), (r, a, b) => {
        const once = offsetRing(r, { by: a + b });
        const first = offsetRing(r, { by: a });
        fc.pre(first.length === 1 && once.length === 1);
        const twice = offsetRing(first[0]!, { by: b });
        fc.pre(twice.length === 1);
        expect(ringArea(twice[0]!)).toBeCloseTo(ringArea(once[0]!), 3);
      }),
      { numRuns: 200 },
    );
  });

  it('shrinks snapped fillets by their own radius, where arcs and tangents vanish in the grid', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(-6, 6, 100), (r, by) => {
        fc.pre(by !== 0);
        for (const drawn of offsetRing(r, { by }).map(snapRing)) {
          fc.pre(ringArea(drawn) > 1);
          const back = offsetRing(drawn, { by: -by });
          expect(worstMiss(drawn, back, by)).toBeLessThan(1e-6);
          for (const q of back) expect(ringProblems(q)).toEqual([]);
          const chord = 0.005;
          const flat = flattenRing(drawn, { tolerance: chord / 5 });
          const theirs = Clipper.inflatePathsD([flat], -by, JoinType.Round, EndType.Polygon, 2, 6, chord);
          const area = theirs.reduce((sum, p) => sum + Clipper.areaD(p), 0);
          expect(Math.abs(areaOf(back) - area)).toBeLessThan((ringPerimeter(drawn) + 50) * chord * 1.5);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('meets moved lines exactly in their corners', () => {
    expect(offsetRing(rectangleRing(0, 0, 100, 50), { by: -3.175 })).toEqual([
      rectangleRing(3.175, 3.175, 96.825, 46.825),
    ]);
  });

  it('keeps arcs concentric and lets an arc vanish whose radius is used up', () => {
    const plate = ring([
      { x: 5, y: 0, bulge: 0 },
      { x: 35, y: 0, bulge: Math.tan(Math.PI / 8) },
      { x: 40, y: 5, bulge: 0 },
      { x: 40, y: 30, bulge: 0 },
      { x: 0, y: 30, bulge: 0 },
      { x: 0, y: 5, bulge: Math.tan(Math.PI / 8) },
    ]);
    const arcs = (r: Ring) => ringSegments(r).flatMap((s) => (s.kind === 'arc' ? [s] : []));
    const [by2] = offsetRing(plate, { by: -2 });
    for (const s of arcs(by2!)) {
      expect(s.radius).toBeCloseTo(3, 9);
      expect(
        Math.min(Math.hypot(s.centre.x - 5, s.centre.y - 5), Math.hypot(s.centre.x - 35, s.centre.y - 5)),
      ).toBeLessThan(1e-9);
    }
    expect(arcs(by2!)).toHaveLength(2);
    expect(offsetRing(plate, { by: -5 })[0]!.vertices).toHaveLength(4);
    expect(arcs(offsetRing(plate, { by: -6 })[0]!)).toEqual([]);
  });

  it('carries the tags of the source and none on arcs round corners', () => {
    const r = ring([
      { x: 0, y: 0, bulge: 0, tag: 'south' },
      { x: 10, y: 0, bulge: 1, tag: 'east' },
      { x: 10, y: 6, bulge: 0, tag: 'north' },
      { x: 0, y: 6, bulge: 0, tag: 'west' },
    ]);
    const tags = (by: number) => offsetRing(r, { by })[0]!.vertices.map((v) => v.tag);
    expect(tags(-1)).toEqual(['south', 'east', 'north', 'west']);
    expect(tags(1)).toEqual(['south', 'east', 'north', undefined, 'west', undefined]);
  });

  it('splits a dumbbell at its neck and closes a hollow when a mouth grows shut', () => {
    const dumbbell = polygonRing([
      { x: 0, y: 0 },
      { x: 20, y: 0 },
      { x: 20, y: 8 },
      { x: 40, y: 8 },
      { x: 40, y: 0 },
      { x: 60, y: 0 },
      { x: 60, y: 20 },
      { x: 40, y: 20 },
      { x: 40, y: 12 },
      { x: 20, y: 12 },
      { x: 20, y: 20 },
      { x: 0, y: 20 },
    ]);
    expect(offsetRing(dumbbell, { by: -1 })).toHaveLength(1);
    // Each square 14 × 14 and the nib that it pushes towards the neck, between circles of 3 round its corners.
    const nib = 12 - (2 * Math.sqrt(5) + 9 * Math.asin(2 / 3));
    const chamber = expect.closeTo(14 * 14 + nib, 6);
    expect(offsetRing(dumbbell, { by: -3 }).map(ringArea)).toEqual([chamber, chamber]);
    // Exactly as wide as the neck: two chambers, and the line between them set apart.
    expect(offsetRing(dumbbell, { by: -2 })).toHaveLength(2);
    expect(offsetCentrelines(dumbbell, { by: -2 })).toHaveLength(1);
    const c = polygonRing([
      { x: 0, y: 0 },
      { x: 40, y: 0 },
      { x: 40, y: 18 },
      { x: 36, y: 18 },
      { x: 36, y: 4 },
      { x: 4, y: 4 },
      { x: 4, y: 36 },
      { x: 36, y: 36 },
      { x: 36, y: 22 },
      { x: 40, y: 22 },
      { x: 40, y: 40 },
      { x: 0, y: 40 },
    ]);
    const grown = offsetRing(c, { by: 3 });
    expect(grown.map((r) => Math.sign(ringArea(r)))).toEqual([1, -1]);
    expect(ringArea(grown[1]!)).toBeCloseTo(-(26 * 26 + nib), 6);
  });

  it('leaves nothing of a slot as wide as the cutter but its centreline, whichever way the slot lies', () => {
    fc.assert(
      fc.property(gridNumber(2, 12), gridNumber(1, 60), gridNumber(0, 3), (width, more, turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        const at = (x: number, y: number) => ({ x: 100 + c * x - s * y, y: 50 + s * x + c * y });
        const slot = polygonRing([at(0, 0), at(width + more, 0), at(width + more, width), at(0, width)]);
        expect(offsetRing(slot, { by: -width / 2 })).toEqual([]);
        const lines = offsetCentrelines(slot, { by: -width / 2 });
        expect(lines).toHaveLength(1);
        expect(Math.hypot(lines[0]!.to.x - lines[0]!.from.x, lines[0]!.to.y - lines[0]!.from.y)).toBeCloseTo(
          more,
          5,
        );
        // A hair wider and it is a loop, a hair narrower and it is nothing.
        expect(offsetRing(slot, { by: -(width - 0.002) / 2 })).toHaveLength(1);
        expect(offsetCentrelines(slot, { by: -(width + 0.002) / 2 })).toEqual([]);
      }),
    );
  });

  it('leaves nothing of a circle, a square and a half circle shrunk beyond their middle', () => {
    for (const r of [circleRing({ x: 3, y: 4 }, 5), rectangleRing(0, 0, 10, 10)])
      for (const by of [-5, -5.0001, -7, -100]) expect(offsetRing(r, { by })).toEqual([]);
    expect(offsetRing(circleRing({ x: 3, y: 4 }, 5), { by: -4.99 })).toHaveLength(1);
    const half = ring([
      { x: 10, y: 0, bulge: 1 },
      { x: -10, y: 0, bulge: 0 },
    ]);
    expect(offsetRing(half, { by: -5.001 })).toEqual([]);
    expect(offsetRing(half, { by: -4.999 })).toHaveLength(1);
  });

  it('adds no speck of an arc at a tangent that snapping has bent', () => {
    const bent = ring([
      { x: 0, y: 0, bulge: 0 },
      { x: 34, y: 0.0001, bulge: Math.tan(Math.PI / 8) },
      { x: 40, y: 6, bulge: 0 },
      { x: 40, y: 30, bulge: 0 },
      { x: 0, y: 30, bulge: 0 },
    ]);
    expect(offsetRing(bent, { by: 3 })[0]!.vertices).toHaveLength(5 + 3);
    expect(offsetRing(bent, { by: -3 })[0]!.vertices).toHaveLength(5);
    expect(worstMiss(bent, offsetRing(bent, { by: 3 }), 3)).toBeLessThan(1e-6);
  });

  it('follows the end plate of the sideboard: an arc of 3130 mm, a foot arch, fillets and notches', () => {
    const arc = (x: number, y: number, to: Point, centre: Point, turn: 'cw' | 'ccw'): Vertex => ({
      x,
      y,
      bulge: Math.tan(sweepAround(centre, { x, y }, to, turn) / 4),
    });
    const line = (x: number, y: number): Vertex => ({ x, y, bulge: 0 });
    const plate = ring([
      line(6, 0),
      arc(50, 0, { x: 290, y: 0 }, { x: 170, y: -160 }, 'cw'),
      line(290, 0),
      arc(334, 0, { x: 340, y: 6 }, { x: 334, y: 6 }, 'ccw'),
      ...(
        [
          [340, 6],
          [340, 138],
          [322, 138],
          [322, 178],
          [340, 178],
          [340, 682],
          [322, 682],
        ] as const
      ).map(([x, y]) => line(x, y)),
      ...(
        [
          [322, 742],
          [290, 742],
          [290, 760],
          [210, 760],
          [210, 742],
          [130, 742],
          [130, 760],
          [50, 760],
          [50, 742],
          [0, 742],
        ] as const
      ).map(([x, y]) => line(x, y)),
      arc(0, 650, { x: 0, y: 150 }, { x: -3120, y: 400 }, 'cw'),
      line(0, 150),
      arc(0, 6, { x: 6, y: 0 }, { x: 6, y: 6 }, 'ccw'),
    ]);
    expect(ringProblems(plate)).toEqual([]);
    for (const by of [3.175, 4.7625, 6, -3, -6, -6.35]) {
      const [path, ...more] = offsetRing(plate, { by });
      expect(more).toEqual([]);
      expect(ringProblems(path!)).toEqual([]);
      expect(worstMiss(plate, [path!], by)).toBeLessThan(1e-6);
      const radii = ringSegments(path!).flatMap((s) => (s.kind === 'arc' ? [s.radius] : []));
      // The long arc and the arch are hollow, seen from the plate: growing makes them tighter.
      expect(Math.max(...radii)).toBeCloseTo(Math.hypot(3120, 250) - by, 6);
      expect(radii.some((r) => Math.abs(r - (200 - by)) < 1e-6)).toBe(true);
    }
  });

  it('returns the ring itself for no offset and refuses what is no number', () => {
    const r = rectangleRing(0, 0, 1, 1);
    expect(offsetRing(reverseRing(r), { by: 0 }).map(ringArea)).toEqual([1]);
    expect(() => offsetRing(r, { by: Number.NaN })).toThrow(RangeError);
    expect(bulgeOfSegment(ringSegments(r)[0]!)).toBe(0);
  });
});
