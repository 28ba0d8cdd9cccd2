import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anySegment } from '../test/arbitraries.js';
import { distance, type Point } from './point.js';
import { type ArcSegment, type LineSegment, type Segment, sweepAround } from './ring.js';
import { pointAlong, reverseSegment } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { carrierMeets, segmentIntersections } from './segment-intersections.js';

const line = (x0: number, y0: number, x1: number, y1: number): LineSegment => ({
  kind: 'line',
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
});

function arc(
  cx: number,
  cy: number,
  r: number,
  from: number,
  to: number,
  turn: 'cw' | 'ccw' = 'ccw',
): ArcSegment {
  const at = (deg: number): Point => ({
    x: cx + r * Math.cos((deg * Math.PI) / 180),
    y: cy + r * Math.sin((deg * Math.PI) / 180),
  });
  const centre = { x: cx, y: cy };
  return {
    kind: 'arc',
    from: at(from),
    to: at(to),
    centre,
    radius: r,
    sweep: sweepAround(centre, at(from), at(to), turn),
  };
}

/** Places on `a` where it passes through `b`, found by stepping along `a` and bisecting: slow, but independent. */
function crossingsBySteps(a: Segment, b: Segment): Point[] {
  const side = (f: number): number => {
    const p = pointAlong(a, f);
    return b.kind === 'line'
      ? (b.to.x - b.from.x) * (p.y - b.from.y) - (b.to.y - b.from.y) * (p.x - b.from.x)
      : distance(p, b.centre) - b.radius;
  };
  const found: Point[] = [];
  for (let i = 0; i < 500; i++) {
    let low = i / 500;
    let high = (i + 1) / 500;
    if (side(low) < 0 === side(high) < 0) continue;
    for (let k = 0; k < 60; k++) {
      const middle = (low + high) / 2;
      if (side(low) < 0 === side(middle) < 0) low = middle;
      else high = middle;
    }
    const p = pointAlong(a, low);
    if (pointSegmentDistance(b, p) < 1e-9) found.push(p);
  }
  return found;
}

describe('segmentIntersections', () => {
  it('gives only points that lie on both segments', () => {
    fc.assert(
      fc.property(anySegment(), anySegment(), (a, b) => {
        for (const p of segmentIntersections(a, b)) {
          expect(pointSegmentDistance(a, p)).toBeLessThan(2e-6);
          expect(pointSegmentDistance(b, p)).toBeLessThan(2e-6);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('finds the same points whichever comes first and whichever way they run', () => {
    const sorted = (points: Point[]) => [...points].sort((p, q) => p.x - q.x || p.y - q.y);
    fc.assert(
      fc.property(anySegment(), anySegment(), (a, b) => {
        const one = sorted(segmentIntersections(a, b));
        for (const other of [segmentIntersections(b, a), segmentIntersections(reverseSegment(a), b)]) {
          expect(other.length).toBe(one.length);
          sorted(other).forEach((p, i) => {
            expect(distance(p, one[i]!)).toBeLessThan(1e-5);
          });
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('misses no crossing that walking along one segment shows', () => {
    let crossings = 0;
    fc.assert(
      fc.property(anySegment(20), anySegment(20), (a, b) => {
        const found = segmentIntersections(a, b);
        for (const p of crossingsBySteps(a, b)) {
          crossings++;
          expect(Math.min(...found.map((q) => distance(p, q)))).toBeLessThan(1e-5);
        }
      }),
      { numRuns: 1000 },
    );
    expect(crossings).toBeGreaterThan(100);
  });

  it('gives an end that touches as that very end', () => {
    expect(segmentIntersections(line(0, 0, 10, 0), line(4, 0, 4, 7))).toEqual([{ x: 4, y: 0 }]);
    const quarter = arc(0, 0, 5, 0, 90);
    expect(segmentIntersections(quarter, line(5, 0, 9, 0))).toEqual([{ x: 5, y: 0 }]);
  });

  it('gives the ends of the common stretch of two lines, and of two arcs of one circle', () => {
    expect(segmentIntersections(line(0, 0, 10, 0), line(14, 0, 3, 0))).toEqual([
      { x: 10, y: 0 },
      { x: 3, y: 0 },
    ]);
    const a = arc(1, 2, 5, 0, 90);
    const b = arc(1, 2, 5, 120, 30, 'cw');
    const meets = segmentIntersections(a, b);
    expect(meets).toHaveLength(2);
    expect(distance(meets[0]!, a.to)).toBe(0);
    expect(distance(meets[1]!, b.to)).toBe(0);
  });

  it('gives one point where a line or an arc is tangent', () => {
    expect(segmentIntersections(line(-5, 3, 5, 3), arc(0, 0, 3, 0, 180))).toHaveLength(1);
    expect(segmentIntersections(arc(0, 0, 3, -60, 60), arc(7, 0, 4, 90, 270))).toHaveLength(1);
    expect(segmentIntersections(arc(0, 0, 3, -60, 60), arc(-4, 0, 7, -90, 90))).toHaveLength(1);
  });

  it('finds nothing where only the carriers meet', () => {
    expect(segmentIntersections(line(0, 0, 1, 0), line(5, -1, 5, 1))).toEqual([]);
    expect(segmentIntersections(line(-9, 0, 9, 0), arc(0, 0, 3, 10, 170))).toEqual([]);
    expect(segmentIntersections(arc(0, 0, 3, 10, 170), arc(3, 0, 3, 190, 350))).toEqual([]);
  });
});

describe('carrierMeets', () => {
  it('meets axis-parallel lines in their own coordinates, exactly', () => {
    expect(carrierMeets(line(0.1, 7, 0.1, 9), line(3, 0.3, 11, 0.3))).toEqual([{ x: 0.1, y: 0.3 }]);
  });

  it('gives points on both carriers', () => {
    const off = (s: Segment, p: Point) =>
      s.kind === 'arc'
        ? Math.abs(distance(p, s.centre) - s.radius)
        : Math.abs((s.to.x - s.from.x) * (p.y - s.from.y) - (s.to.y - s.from.y) * (p.x - s.from.x)) /
          distance(s.from, s.to);
    fc.assert(
      fc.property(anySegment(), anySegment(), (a, b) => {
        for (const p of carrierMeets(a, b)) {
          // Nearly parallel lines meet far away, where doubles are as coarse as the distance.
          const size = 1 + Math.hypot(p.x, p.y);
          expect(off(a, p) / size).toBeLessThan(1e-6);
          expect(off(b, p) / size).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('solves the circle meeting of the 3-4-5 triangle and the half-chord of a 5-12-13', () => {
    const meets = carrierMeets(arc(0, 0, 4, 0, 10), arc(5, 0, 3, 0, 10));
    expect(meets.map((p) => [p.x, Math.abs(p.y)])).toEqual([
      [3.2, expect.closeTo(2.4, 12)],
      [3.2, expect.closeTo(2.4, 12)],
    ]);
    expect(carrierMeets(line(0, 5, 1, 5), arc(0, 0, 13, 0, 10))).toEqual([
      { x: -12, y: 5 },
      { x: 12, y: 5 },
    ]);
  });

  it('finds no point for parallel lines and for one and the same circle', () => {
    expect(carrierMeets(line(0, 0, 1, 0), line(0, 1, 9, 1))).toEqual([]);
    expect(carrierMeets(arc(1, 1, 2, 0, 90), arc(1, 1, 2, 180, 200))).toEqual([]);
  });
});
