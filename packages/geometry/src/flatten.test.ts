import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyArc, bulgedRing, gridNumber } from '../test/arbitraries.js';
import { chordCount, flattenRing } from './flatten.js';
import { distance } from './point.js';
import { polylinePoints } from './polyline-points.js';
import { ringSegments, type Segment } from './ring.js';
import {
  endDirection,
  fractionAlong,
  pointAlong,
  reverseSegment,
  startDirection,
  turnBetween,
} from './segment-course.js';
import { pointRingDistance, pointSegmentDistance } from './segment-distance.js';

describe('chordCount', () => {
  it('is that of the sagitta formula for the full circles of reference value G4', () => {
    for (const [radius, tolerance, n] of [
      [25, 0.01, 112],
      [3.175, 0.01, 40],
      [100, 0.05, 100],
      [4.7625, 0.002, 109],
    ] as const)
      expect(chordCount(radius, 2 * Math.PI, tolerance)).toBe(n);
  });
});

describe('flattenRing and polylinePoints', () => {
  it('put every corner on the curve and every chord within the tolerance of it', () => {
    fc.assert(
      fc.property(bulgedRing(), fc.constantFrom(0.5, 0.05, 0.005), (r, tolerance) => {
        const p = flattenRing(r, { tolerance });
        p.forEach((a, i) => {
          const b = p[(i + 1) % p.length]!;
          expect(pointRingDistance(r, a)).toBeLessThan(1e-9);
          expect(pointRingDistance(r, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 })).toBeLessThan(
            tolerance + 1e-9,
          );
        });
        // The open course is the same points and the last end.
        const open = polylinePoints(ringSegments(r), { tolerance });
        expect(open.slice(0, -1)).toEqual(p.map(({ x, y }) => ({ x, y })));
        expect(open[open.length - 1]).toEqual({ x: r.vertices[0]!.x, y: r.vertices[0]!.y });
      }),
      { numRuns: 60 },
    );
  });

  it('refuse a tolerance that is not positive, and a course with a gap', () => {
    expect(() => flattenRing({ vertices: [] }, { tolerance: 0 })).toThrow(RangeError);
    expect(() => polylinePoints([], { tolerance: Number.NaN })).toThrow(RangeError);
    const a: Segment = { kind: 'line', from: { x: 0, y: 0 }, to: { x: 1, y: 0 } };
    const b: Segment = { kind: 'line', from: { x: 1.1, y: 0 }, to: { x: 2, y: 0 } };
    expect(() => polylinePoints([a, b], { tolerance: 0.1 })).toThrow(/gap at \(1, 0\)/);
    expect(polylinePoints([], { tolerance: 0.1 })).toEqual([]);
  });
});

describe('the course of a segment', () => {
  it('runs from start to end, and fractions lead there and back', () => {
    fc.assert(
      fc.property(anyArc(), gridNumber(0, 1, 100), (s, f) => {
        const p = pointAlong(s, f);
        expect(pointSegmentDistance(s, p)).toBeLessThan(1e-9);
        expect(fractionAlong(s, p)).toBeCloseTo(f, 7);
        expect(distance(pointAlong(reverseSegment(s), 1 - f), p)).toBeLessThan(1e-9);
      }),
    );
  });

  it('has directions that a small step confirms', () => {
    fc.assert(
      fc.property(anyArc(), (s) => {
        const step = 1e-6;
        const near = pointAlong(s, step);
        const d = startDirection(s);
        const l = distance(s.from, near);
        expect((near.x - s.from.x) / l).toBeCloseTo(d.x, 4);
        expect((near.y - s.from.y) / l).toBeCloseTo(d.y, 4);
        const back = startDirection(reverseSegment(s));
        expect(back.x).toBeCloseTo(-endDirection(s).x, 9);
        expect(back.y).toBeCloseTo(-endDirection(s).y, 9);
        expect(Math.abs(turnBetween(s, reverseSegment(s)))).toBe(Math.PI);
      }),
    );
  });
});
