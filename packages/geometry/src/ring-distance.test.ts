import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anySegment, bulgedRing, gridNumber, starRing } from '../test/arbitraries.js';
import { distance } from './point.js';
import { circleRing, type Ring, rectangleRing, ringSegments } from './ring.js';
import { ringsDistance } from './ring-distance.js';
import { pointAlong, segmentLength } from './segment-course.js';
import { pointRingDistance, pointSegmentDistance } from './segment-distance.js';
import { segmentsDistance } from './segment-gap.js';
import { segmentIntersections } from './segment-intersections.js';
import { moveRing } from './transform.js';

const anyRing = fc.oneof(starRing(), bulgedRing());
const shifted = (r: Ring, dx: number, dy: number) => moveRing({ mirror: false, turn: 0, dx, dy }, r);

describe('segmentsDistance', () => {
  it('is what sampling one segment densely says, and never more', () => {
    fc.assert(
      fc.property(anySegment(), anySegment(), (a, b) => {
        const d = segmentsDistance(a, b);
        let sampled = Infinity;
        for (let i = 0; i <= 400; i++)
          sampled = Math.min(sampled, pointSegmentDistance(b, pointAlong(a, i / 400)));
        expect(d).toBeLessThanOrEqual(sampled + 1e-6);
        expect(d).toBeGreaterThan(sampled - segmentLength(a) / 800 - 1e-6);
        expect(segmentsDistance(b, a)).toBeCloseTo(d, 6);
        expect(d === 0).toBe(segmentIntersections(a, b).length > 0);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('ringsDistance', () => {
  it('is the least distance of all pairs of segments', () => {
    fc.assert(
      fc.property(anyRing, anyRing, gridNumber(-200, 200), gridNumber(-200, 200), (a, b, dx, dy) => {
        const c = shifted(b, dx, dy);
        let least = Infinity;
        for (const s of ringSegments(a))
          for (const t of ringSegments(c)) least = Math.min(least, segmentsDistance(s, t));
        expect(ringsDistance(a, c)).toBeCloseTo(least, 9);
        expect(ringsDistance(c, a)).toBeCloseTo(least, 9);
      }),
      { numRuns: 300 },
    );
  });

  it('is exact between circles apart, inside and touching, and between a circle and a rectangle', () => {
    const a = circleRing({ x: 0, y: 0 }, 5);
    expect(ringsDistance(a, circleRing({ x: 9, y: 12 }, 7))).toBeCloseTo(3, 12);
    expect(ringsDistance(a, circleRing({ x: 1, y: 0 }, 2))).toBeCloseTo(2, 12);
    expect(ringsDistance(a, circleRing({ x: 8, y: 0 }, 3))).toBe(0);
    expect(ringsDistance(a, circleRing({ x: 7, y: 0 }, 3))).toBe(0);
    expect(ringsDistance(a, rectangleRing(8, -50, 9, 50))).toBeCloseTo(3, 12);
    expect(ringsDistance(a, rectangleRing(8, 9, 20, 20))).toBeCloseTo(
      distance({ x: 8, y: 9 }, { x: 0, y: 0 }) - 5,
      12,
    );
    expect(pointRingDistance(a, { x: 0, y: 0 })).toBe(5);
  });
});
