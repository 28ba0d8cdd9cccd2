import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyArc, bulgedRing, gridNumber, starPolygon } from '../test/arbitraries.js';
import { distance } from './point.js';
import {
  bulgeOfSegment,
  circleRing,
  polygonRing,
  reverseRing,
  ring,
  ringOfSegments,
  ringSegments,
  segmentOfBulge,
  snapRing,
  sweepAround,
} from './ring.js';
import { clockwise, counterClockwise, ringArea, ringPerimeter } from './ring-area.js';
import { ringBounds } from './ring-bounds.js';
import { pointAlong } from './segment-course.js';
import { snap } from './snap.js';
import { moveRing } from './transform.js';

describe('segments and bulges', () => {
  it('have the centres and radii of the DXF reference cases (reference value G5)', () => {
    const arc = (bulge: number) => segmentOfBulge({ x: 0, y: 0 }, { x: 10, y: 0 }, bulge);
    for (const [bulge, x, y, radius, degrees] of [
      [1, 5, 0, 5, 180],
      [0.5, 5, 3.75, 6.25, 106.260205],
      [-0.5, 5, -3.75, 6.25, -106.260205],
      [2, 5, -3.75, 6.25, 253.739795],
      [Math.SQRT2 - 1, 5, 5, 7.071068, 90],
    ] as const) {
      const s = arc(bulge);
      if (s.kind !== 'arc') throw new Error('not an arc');
      expect(s.centre.x).toBeCloseTo(x, 9);
      expect(s.centre.y).toBeCloseTo(y, 9);
      expect(s.radius).toBeCloseTo(radius, 6);
      expect((s.sweep * 180) / Math.PI).toBeCloseTo(degrees, 6);
      expect(bulgeOfSegment(s)).toBeCloseTo(bulge, 12);
    }
  });

  it('turn into each other without loss', () => {
    fc.assert(
      fc.property(anyArc(), (s) => {
        const again = segmentOfBulge(s.from, s.to, bulgeOfSegment(s));
        if (s.kind !== 'arc' || again.kind !== 'arc') throw new Error('not an arc');
        // Nearly full circles have short chords, from which the radius is less certain.
        const loss = (s.radius * 1e-12) / Math.min(1, distance(s.from, s.to) / s.radius) ** 2;
        expect(distance(again.centre, s.centre)).toBeLessThan(1e-10 + loss);
        expect(again.sweep).toBeCloseTo(s.sweep, 9);
      }),
    );
  });

  it('take an arc lower than doubles can place for a line', () => {
    expect(segmentOfBulge({ x: 0, y: 0 }, { x: 100, y: 0 }, 1e-9).kind).toBe('line');
    expect(segmentOfBulge({ x: 0, y: 0 }, { x: 100, y: 0 }, 1e-8).kind).toBe('arc');
  });

  it('sweep a full turn from a point to itself, and the two ways round add up to one', () => {
    const at = { x: 3, y: 4 };
    expect(sweepAround({ x: 0, y: 0 }, at, at, 'ccw')).toBe(2 * Math.PI);
    expect(sweepAround({ x: 0, y: 0 }, at, at, 'cw')).toBe(-2 * Math.PI);
    fc.assert(
      fc.property(gridNumber(0, 6.28), gridNumber(0, 6.28), (a, b) => {
        fc.pre(a !== b);
        const p = { x: Math.cos(a), y: Math.sin(a) };
        const q = { x: Math.cos(b), y: Math.sin(b) };
        const ccw = sweepAround({ x: 0, y: 0 }, p, q, 'ccw');
        expect(ccw - sweepAround({ x: 0, y: 0 }, p, q, 'cw')).toBeCloseTo(2 * Math.PI, 9);
      }),
    );
  });
});

describe('ring', () => {
  it('refuses less than two vertices and numbers that are not finite', () => {
    expect(() => ring([])).toThrow(RangeError);
    expect(() => ring([{ x: 0, y: 0, bulge: 0 }])).toThrow(RangeError);
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY])
      for (const v of [
        { x: bad, y: 0, bulge: 0 },
        { x: 0, y: bad, bulge: 0 },
        { x: 0, y: 0, bulge: bad },
      ])
        expect(() => ring([v, { x: 1, y: 1, bulge: 1 }])).toThrow(RangeError);
  });

  it('reversed twice is the same, tags with their segments, and its area only changes sign', () => {
    fc.assert(
      fc.property(bulgedRing(), (plain) => {
        const r = ring(plain.vertices.map((v, i) => ({ ...v, tag: `e${i}` })));
        const back = reverseRing(r);
        expect(ringArea(back)).toBeCloseTo(-ringArea(r), 7);
        expect(ringPerimeter(back)).toBeCloseTo(ringPerimeter(r), 9);
        const middle = (of: typeof r, tag: string) =>
          pointAlong(ringSegments(of).find((s) => s.tag === tag)!, 0.5);
        for (let i = 0; i < r.vertices.length; i++)
          expect(distance(middle(r, `e${i}`), middle(back, `e${i}`))).toBeLessThan(1e-9);
        expect(
          ringSegments(reverseRing(back))
            .map((s) => s.tag)
            .sort(),
        ).toEqual(
          ringSegments(r)
            .map((s) => s.tag)
            .sort(),
        );
        expect(ringArea(counterClockwise(back))).toBeGreaterThan(0);
        expect(ringArea(clockwise(r))).toBeLessThan(0);
      }),
    );
  });

  it('is rebuilt from its segments', () => {
    fc.assert(
      fc.property(bulgedRing(), (r) => {
        const again = ringOfSegments(ringSegments(r));
        again.vertices.forEach((v, i) => {
          expect(v).toEqual({ ...r.vertices[i]!, bulge: expect.closeTo(r.vertices[i]!.bulge, 12) });
        });
      }),
    );
  });

  it('encloses the area of the shoelace, and of the circle', () => {
    fc.assert(
      fc.property(starPolygon(), (p) => {
        const shoelace = p.reduce((sum, a, i) => {
          const b = p[(i + 1) % p.length]!;
          return sum + (a.x * b.y - b.x * a.y) / 2;
        }, 0);
        expect(ringArea(polygonRing(p))).toBeCloseTo(shoelace, 9);
      }),
    );
    expect(ringArea(circleRing({ x: 30, y: -20 }, 5))).toBeCloseTo(25 * Math.PI, 10);
    expect(ringPerimeter(circleRing({ x: 30, y: -20 }, 5))).toBeCloseTo(10 * Math.PI, 10);
  });

  it('lies in its box, touches each side of it, and moves without changing area', () => {
    fc.assert(
      fc.property(bulgedRing(), gridNumber(-3, 3), fc.boolean(), (r, turn, mirror) => {
        const m = moveRing({ mirror, turn, dx: 12, dy: -7 }, r);
        expect(ringArea(m)).toBeCloseTo(ringArea(r), 7);
        const box = ringBounds(m);
        let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
        for (const s of ringSegments(m))
          for (let i = 0; i <= 200; i++) {
            const p = pointAlong(s, i / 200);
            [minX, minY, maxX, maxY] = [
              Math.min(minX, p.x),
              Math.min(minY, p.y),
              Math.max(maxX, p.x),
              Math.max(maxY, p.y),
            ];
          }
        for (const [tight, sampled] of [
          [minX, box.minX],
          [minY, box.minY],
          [box.maxX, maxX],
          [box.maxY, maxY],
        ] as const) {
          // The box is never smaller than the curve, and larger only by what sampling misses.
          expect(tight - sampled).toBeGreaterThan(-1e-9);
          expect(tight - sampled).toBeLessThan(0.02);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('snaps to the grid once and for all', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e5, max: 1e5, noNaN: true }), (v) => {
        expect(snap(snap(v))).toBe(snap(v));
        expect(Math.abs(snap(v) - v)).toBeLessThanOrEqual(0.00005 + 1e-10);
        expect(Object.is(snap(v), -0)).toBe(false);
      }),
    );
    expect(() => snap(Number.NaN)).toThrow(RangeError);
    fc.assert(
      fc.property(bulgedRing(), (r) => {
        expect(snapRing(snapRing(r))).toEqual(snapRing(r));
      }),
    );
  });
});
