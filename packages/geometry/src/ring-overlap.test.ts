import { Clipper, FillRule } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, gridNumber, starRing } from '../test/arbitraries.js';
import { flattenRing } from './flatten.js';
import { offsetRing } from './offset-ring.js';
import { circleRing, type Ring, rectangleRing, reverseRing, ring } from './ring.js';
import { ringArea } from './ring-area.js';
import { ringInside, ringsOverlap } from './ring-overlap.js';
import { moveRing } from './transform.js';

const anyRing = fc.oneof(starRing(), bulgedRing(), combRing);
const moved = (r: Ring, dx: number, dy: number, turn = 0) => moveRing({ mirror: false, turn, dx, dy }, r);
const common = (a: Ring, b: Ring): number =>
  Clipper.intersectD(
    [flattenRing(a, { tolerance: 0.001 })],
    [flattenRing(b, { tolerance: 0.001 })],
    FillRule.NonZero,
    6,
  ).reduce((sum, p) => sum + Clipper.areaD(p), 0);

describe('ringsOverlap and ringInside', () => {
  it('agree with the area that an independent polygon kernel finds in common', () => {
    const seen = { apart: 0, part: 0, inside: 0 };
    fc.assert(
      fc.property(
        anyRing,
        anyRing,
        gridNumber(-120, 120),
        gridNumber(-120, 120),
        gridNumber(-3, 3),
        gridNumber(0.05, 1),
        (a, b, dx, dy, turn, scale) => {
          const small: Ring = { vertices: b.vertices.map((v) => ({ ...v, x: v.x * scale, y: v.y * scale })) };
          const c = moved(small, dx * scale, dy * scale, turn);
          const shared = common(a, c);
          const whole = Math.abs(ringArea(c));
          // Chords leave a doubt along the curves; what lies in it is not judged here.
          fc.pre(shared === 0 || shared > 0.5);
          fc.pre(Math.abs(shared - whole) > 0.5 || Math.abs(shared - whole) < 0.4);
          expect(ringsOverlap(a, c)).toBe(shared > 0);
          expect(ringsOverlap(c, a)).toBe(shared > 0);
          if (whole - shared > 0.5) expect(ringInside(c, a)).toBe(false);
          seen[shared === 0 ? 'apart' : ringInside(c, a) ? 'inside' : 'part']++;
          if (ringInside(c, a)) expect(whole - shared).toBeLessThan(0.4);
        },
      ),
      { numRuns: 400 },
    );
    expect(Math.min(seen.apart, seen.part, seen.inside)).toBeGreaterThan(10);
  });

  it('find a shrunk ring inside, a grown one not, and each inside itself', () => {
    fc.assert(
      fc.property(anyRing, gridNumber(0.01, 3), (r, by) => {
        for (const q of offsetRing(r, { by: -by })) {
          expect(ringInside(q, r)).toBe(true);
          expect(ringsOverlap(q, r)).toBe(true);
          expect(ringInside(r, q)).toBe(false);
        }
        expect(ringInside(r, offsetRing(r, { by })[0]!)).toBe(true);
        expect(ringInside(r, r)).toBe(true);
        expect(ringsOverlap(r, reverseRing(r))).toBe(true);
      }),
      { numRuns: 200 },
    );
  });

  it('count touching along a side, at a corner, or along an arc as no overlap, and as inside from within', () => {
    const square = rectangleRing(0, 0, 10, 10);
    for (const other of [
      rectangleRing(10, 2, 20, 8),
      rectangleRing(10, 10, 20, 20),
      rectangleRing(10, -5, 20, 30),
      circleRing({ x: 15, y: 5 }, 5),
    ])
      for (const r of [other, reverseRing(other)]) {
        expect(ringsOverlap(square, r)).toBe(false);
        expect(ringsOverlap(r, square)).toBe(false);
      }
    expect(ringInside(rectangleRing(0, 3, 10, 6), square)).toBe(true);
    expect(ringInside(circleRing({ x: 5, y: 5 }, 5), square)).toBe(true);
    expect(ringInside(circleRing({ x: 5, y: 5 }, 5.001), square)).toBe(false);
    // A plug in a bore of its own size; a ring in the mouth of a bite.
    expect(ringsOverlap(circleRing({ x: 1, y: 1 }, 3), circleRing({ x: 1, y: 1 }, 3))).toBe(true);
    const bitten = ring([
      { x: -9, y: 0, bulge: 0 },
      { x: 9, y: 0, bulge: 0 },
      { x: 9, y: 9, bulge: 0 },
      { x: 3, y: 9, bulge: -1 },
      { x: -3, y: 9, bulge: 0 },
      { x: -9, y: 9, bulge: 0 },
    ]);
    expect(ringsOverlap(bitten, circleRing({ x: 0, y: 9 }, 3))).toBe(false);
    expect(ringsOverlap(bitten, circleRing({ x: 0, y: 9 }, 3.01))).toBe(true);
  });
});
