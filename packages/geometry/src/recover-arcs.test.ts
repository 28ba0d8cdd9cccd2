import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, gridNumber, starRing } from '../test/arbitraries.js';
import { flattenRing, segmentPoints } from './flatten.js';
import { mergeCollinear } from './merge-runs.js';
import { offsetRing } from './offset-ring.js';
import type { Point } from './point.js';
import { recoverArcs, recoverRing } from './recover-arcs.js';
import {
  type ArcSegment,
  polygonRing,
  type Ring,
  ring,
  ringSegments,
  type Segment,
  snapRing,
} from './ring.js';
import { ringArea } from './ring-area.js';
import { segmentLength, turnBetween } from './segment-course.js';
import { pointRingDistance, pointSegmentDistance } from './segment-distance.js';
import { snap } from './snap.js';
import { moveRing } from './transform.js';

const polyline = (points: readonly Point[]): Segment[] =>
  points.slice(1).map((to, i) => ({ kind: 'line', from: points[i]!, to }));
const arcOf = (radius: number, start: number, sweep: number): ArcSegment => {
  const at = (a: number): Point => ({ x: 7 + radius * Math.cos(a), y: -3 + radius * Math.sin(a) });
  return { kind: 'arc', from: at(start), to: at(start + sweep), centre: { x: 7, y: -3 }, radius, sweep };
};
/** The corners of an arc cut into so many equal chords. */
const chordsOf = (s: ArcSegment, n: number): Segment[] =>
  polyline(
    Array.from({ length: n + 1 }, (_, i) => {
      const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + (s.sweep * i) / n;
      return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
    }),
  );
const roundedRing = fc
  .tuple(fc.oneof(starRing({ min: 3, max: 7 }), bulgedRing({ min: 3, max: 7 })), gridNumber(2, 8))
  .map(([r, by]) => offsetRing(r, { by })[0]!);
const off = (p: Point, segments: readonly Segment[]): number =>
  Math.min(...segments.map((s) => pointSegmentDistance(s, p)));

describe('recoverArcs', () => {
  it('makes one arc of the chords of an arc: the same arc', () => {
    fc.assert(
      fc.property(
        gridNumber(1, 300),
        gridNumber(-3, 3),
        gridNumber(0.3, 5.5),
        fc.boolean(),
        fc.integer({ min: 20, max: 300 }),
        (radius, start, turn, left, n) => {
          const source = arcOf(radius, start, left ? turn : -turn);
          fc.pre(radius * (1 - Math.cos(turn / n / 2)) < 0.5 && radius * (turn / n) > 0.002);
          const found = recoverArcs(chordsOf(source, n), { tolerance: 0.001 });
          expect(found).toHaveLength(1);
          expect(found[0]).toMatchObject({
            kind: 'arc',
            radius: expect.closeTo(radius, 3),
            sweep: expect.closeTo(source.sweep, 4),
          });
          // Coordinates of a file, rounded to a thousandth.
          const rounded = chordsOf(source, n).map(
            (s): Segment => ({ ...s, from: round3(s.from), to: round3(s.to) }),
          );
          const again = recoverArcs(rounded, { tolerance: 0.003 });
          if (radius * (turn / n) > 0.5) expect(again).toHaveLength(1);
        },
      ),
      { numRuns: 300, seed: 61 },
    );
  });

  it('turns a circle of 200 chords into one full turn, wherever it starts', () => {
    for (const shift of [0, 1, 57]) {
      const circle = chordsOf(arcOf(25, shift * 0.01, 2 * Math.PI), 200);
      circle[199] = { ...circle[199]!, to: circle[0]!.from } as Segment;
      const found = recoverArcs(circle, { tolerance: 0.001 });
      expect(found).toHaveLength(1);
      expect(found[0]).toMatchObject({ kind: 'arc', sweep: 2 * Math.PI, radius: expect.closeTo(25, 6) });
    }
    const snapped = snapRing(
      polygonRing(
        flattenRing(
          ring([
            { x: 3.2, y: 0, bulge: 1 },
            { x: -3.2, y: 0, bulge: 1 },
          ]),
          { tolerance: 0.01 },
        ),
      ),
    );
    expect(ringArea(recoverRing(snapped, { tolerance: 0.001 }))).toBeCloseTo(Math.PI * 3.2 ** 2, 2);
  });

  it('finds the segments of a flattened ring again, tangents and all, wherever the ring starts', () => {
    let same = 0;
    let all = 0;
    fc.assert(
      fc.property(roundedRing, fc.integer({ min: 0, max: 400 }), fc.boolean(), (r, start, snapping) => {
        const flat = flattenRing(r, { tolerance: 0.002 });
        const turned = flat.map((_, i) => flat[(i + start) % flat.length]!);
        const points = snapping ? turned.map((p) => ({ x: snap(p.x), y: snap(p.y) })) : turned;
        const found = recoverRing(polygonRing(points), { tolerance: 0.001 });
        for (const p of points) expect(pointRingDistance(found, p)).toBeLessThan(0.001);
        expect(Math.abs(ringArea(found) - ringArea(r))).toBeLessThan(
          0.01 + 1e-3 * ringSegments(found).reduce((s, q) => s + segmentLength(q), 0),
        );
        // Arcs of less than eight chords stay chords, all others come back.
        const long = ringSegments(r).filter(
          (s) => s.kind === 'arc' && segmentPoints(s, 0.002).length >= 10,
        ).length;
        all += long;
        same += Math.min(long, ringSegments(found).filter((s) => s.kind === 'arc').length);
        expect(ringSegments(found).length).toBeLessThanOrEqual(points.length);
      }),
      { numRuns: 300, seed: 62 },
    );
    expect(all).toBeGreaterThan(500);
    expect(same / all).toBeGreaterThan(0.99);
  });

  it('never leaves a corner of anything, or stands off a chord by more than it may', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(gridNumber(0.1, 3), gridNumber(-0.5, 0.5)), { minLength: 3, maxLength: 80 }),
        fc.constantFrom(0.3, 0.05, 0.001),
        fc.constantFrom(4, 8),
        (steps, tolerance, leastChords) => {
          let angle = 0;
          let p: Point = { x: 0, y: 0 };
          const points = [p];
          for (const [length, turn] of steps) {
            angle += Math.abs(turn) < 0.3 ? 0.15 : turn;
            p = { x: p.x + length * Math.cos(angle), y: p.y + length * Math.sin(angle) };
            points.push(p);
          }
          const source = polyline(points);
          const found = recoverArcs(source, { tolerance, leastChords, sagitta: 0.2 });
          expect(found[0]!.from).toEqual(points[0]);
          expect(found[found.length - 1]!.to).toEqual(p);
          for (const q of points) expect(off(q, found)).toBeLessThan(tolerance * 1.001 + 1e-9);
          for (const s of found)
            if (s.kind === 'arc')
              for (const f of [0.13, 0.37, 0.5, 0.81]) {
                const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep * f;
                const on = { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
                expect(off(on, source)).toBeLessThan(0.2 + 2 * tolerance);
              }
        },
      ),
      { numRuns: 500, seed: 63 },
    );
  });

  it('leaves polygons drawn on purpose: too few sides, or sides too far from the arc', () => {
    const polygon = (n: number, radius: number): Ring =>
      polygonRing(
        Array.from({ length: n }, (_, i) => ({
          x: radius * Math.cos((2 * Math.PI * i) / n),
          y: radius * Math.sin((2 * Math.PI * i) / n),
        })),
      );
    for (const n of [3, 4, 5, 6, 7])
      for (const radius of [0.5, 3, 500])
        expect(recoverRing(polygon(n, radius), { tolerance: 0.01 }).vertices).toHaveLength(n);
    // An octagon or a dodecagon of a table top against a hole of 8 chords.
    expect(recoverRing(polygon(8, 300), { tolerance: 0.01 }).vertices).toHaveLength(8);
    expect(recoverRing(polygon(12, 300), { tolerance: 0.01 }).vertices).toHaveLength(12);
    expect(ringArea(recoverRing(polygon(8, 2), { tolerance: 0.01 }))).toBeCloseTo(4 * Math.PI, 3);
    expect(recoverRing(polygon(40, 2), { tolerance: 0.01, leastChords: 41 }).vertices).toHaveLength(40);
  });

  it('keeps the tangent of lines beside an arc, and leaves a line that goes on from it whole', () => {
    const arc = arcOf(12, -Math.PI / 2, Math.PI / 2);
    const before: Segment = { kind: 'line', from: { x: arc.from.x - 30, y: arc.from.y }, to: arc.from };
    const chords = chordsOf(arc, 23).map((s): Segment => ({ ...s, from: round3(s.from), to: round3(s.to) }));
    const end = chords[22]!.to;
    const after: Segment = { kind: 'line', from: end, to: { x: end.x, y: end.y + 40 } };
    const found = recoverArcs([before, ...chords, after], { tolerance: 0.003 });
    expect(found.map((s) => s.kind)).toEqual(['line', 'arc', 'line']);
    for (let i = 1; i < 3; i++) expect(Math.abs(turnBetween(found[i - 1]!, found[i]!))).toBeLessThan(2e-4);
  });

  it('parts runs at tags and at arcs of other radii', () => {
    const one = chordsOf(arcOf(12, 0, 1), 20);
    const two = one.map((s, i): Segment => ({ ...s, tag: i < 10 ? 'left' : 'right' }));
    expect(recoverArcs(two, { tolerance: 0.001 }).map((s) => s.tag)).toEqual(['left', 'right']);
    const small = arcOf(5, 1, 1.5);
    const [dx, dy] = [one[19]!.to.x - small.from.x, one[19]!.to.y - small.from.y];
    const on = chordsOf(small, 30).map(
      (s): Segment => ({
        ...s,
        from: { x: s.from.x + dx, y: s.from.y + dy },
        to: { x: s.to.x + dx, y: s.to.y + dy },
      }),
    );
    on[0] = { ...on[0]!, from: one[19]!.to } as Segment;
    const found = recoverArcs([...one, ...on], { tolerance: 0.001 });
    expect(found.map((s) => s.kind === 'arc' && s.radius)).toEqual([
      expect.closeTo(12, 1),
      expect.closeTo(5, 1),
    ]);
  });

  it('gives the same area for a ring however it lies', () => {
    fc.assert(
      fc.property(roundedRing, gridNumber(-3, 3), (r, turn) => {
        const flat = polygonRing(flattenRing(r, { tolerance: 0.002 }));
        const there = recoverRing(moveRing({ mirror: false, turn, dx: 900, dy: 40 }, flat), {
          tolerance: 0.001,
        });
        const here = recoverRing(flat, { tolerance: 0.001 });
        expect(Math.abs(ringArea(there) - ringArea(here))).toBeLessThan(0.05);
      }),
      { numRuns: 100, seed: 64 },
    );
  });

  it('takes 60 000 chords of 200 arcs at once, and refuses no tolerance', () => {
    const points: Point[] = [];
    for (let k = 0; k < 200; k++)
      for (let i = 0; i < 300; i++) {
        const a = Math.PI - (Math.PI * i) / 300;
        points.push({ x: 2 * 10 * k + 10 * Math.cos(a), y: 10 * Math.sin(a) });
      }
    const found = recoverArcs(polyline(points), { tolerance: 0.001 });
    expect(found.filter((s) => s.kind === 'arc')).toHaveLength(200);
    expect(found.length).toBeLessThan(402);
    expect(() => recoverArcs([], { tolerance: 0 })).toThrow(RangeError);
    expect(() => recoverArcs([], { tolerance: 1, leastChords: 2 })).toThrow(RangeError);
    expect(recoverArcs([], { tolerance: 1 })).toEqual([]);
  });
});

const round3 = (p: Point): Point => ({ x: Math.round(p.x * 1000) / 1000, y: Math.round(p.y * 1000) / 1000 });

describe('mergeCollinear', () => {
  it('leaves no corner by more than the tolerance and keeps both ends', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(gridNumber(0.01, 5), gridNumber(-0.02, 0.02)), { minLength: 1, maxLength: 60 }),
        fc.constantFrom(0.1, 0.01, 0.001),
        (steps, tolerance) => {
          let p: Point = { x: 0, y: 0 };
          const points = [p, ...steps.map(([dx, dy]) => (p = { x: p.x + dx, y: p.y + dy }))];
          const merged = mergeCollinear(polyline(points), { tolerance });
          expect([merged[0]!.from, merged[merged.length - 1]!.to]).toEqual([points[0], p]);
          for (const q of points) expect(off(q, merged)).toBeLessThan(tolerance * 1.0001);
        },
      ),
      { numRuns: 300, seed: 65 },
    );
  });

  it('makes one line of a line cut in many, but none of a line that comes back, an arc, or two tags', () => {
    const cut = polyline(Array.from({ length: 100 }, (_, i) => ({ x: i * 3, y: i * 4 })));
    expect(mergeCollinear(cut, { tolerance: 1e-9 })).toEqual([
      { kind: 'line', from: { x: 0, y: 0 }, to: { x: 297, y: 396 } },
    ]);
    const back = polyline([
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 4, y: 0 },
    ]);
    expect(mergeCollinear(back, { tolerance: 0.1 })).toHaveLength(2);
    expect(
      mergeCollinear(
        cut.map((s, i) => ({ ...s, tag: i < 50 ? 'a' : 'b' })),
        { tolerance: 0.1 },
      ),
    ).toHaveLength(2);
    expect(() => mergeCollinear(cut, { tolerance: Number.NaN })).toThrow(RangeError);
  });
});
