import { circleRing, distance, pointSegmentDistance, rectangleRing, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestOnPath, startNearest } from './nearest-on-path.js';
import { pathLength, pointAlong, reversePath, segmentLength, slicePath } from './path.js';

const mm = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const rectangle = ringSegments(rectangleRing(0, 0, 60, 20));
const circle = ringSegments(circleRing({ x: 30, y: 10 }, 25));
const closed = fc.constantFrom(rectangle, circle, reversePath(circle));

describe('a path', () => {
  it('cut in two has the same length and meets where it was cut', () => {
    fc.assert(
      fc.property(closed, mm(0.01, 0.99), (path, share) => {
        const at = pathLength(path) * share;
        const [a, b] = [slicePath(path, 0, at), slicePath(path, at, Infinity)];
        expect(pathLength(a) + pathLength(b)).toBeCloseTo(pathLength(path), 6);
        expect(distance(a.at(-1)!.to, b[0]!.from)).toBeLessThan(1e-6);
      }),
    );
  });

  it('started at the place nearest to a point is the same path and starts there', () => {
    fc.assert(
      fc.property(closed, mm(-50, 100), mm(-50, 70), (path, x, y) => {
        const nearest = nearestOnPath(path, { x, y });
        const started = startNearest(path, { x, y });
        expect(pathLength(started)).toBeCloseTo(pathLength(path), 4);
        const gap = Math.min(...path.map((s) => pointSegmentDistance(s, { x, y })));
        expect(distance(started[0]!.from, { x, y })).toBeCloseTo(gap, 4);
        expect(
          distance(slicePath(path, 0, nearest.total).at(-1)?.to ?? path[0]!.from, started[0]!.from),
        ).toBeLessThan(1e-4);
        for (const [i, s] of started.entries())
          expect(distance(s.to, started[(i + 1) % started.length]!.from)).toBeLessThan(1e-6);
      }),
    );
  });

  it('finds the middle of a half circle on the arc', () => {
    const [half] = circle;
    const p = pointAlong(half!, segmentLength(half!) / 2);
    expect([p.x, p.y].map((v) => +v.toFixed(9))).toEqual([30, 35]);
  });
});
