import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, gridNumber, starRing } from '../test/arbitraries.js';
import { flattenRing } from './flatten.js';
import type { Point } from './point.js';
import { circleRing, rectangleRing, reverseRing, ring } from './ring.js';
import { pointInRing } from './ring-contains.js';
import { pointRingDistance } from './segment-distance.js';

const anyRing = fc.oneof(starRing(), bulgedRing(), combRing);
const anyPlace = fc.record({ x: gridNumber(-70, 70), y: gridNumber(-70, 70) });

/** The winding number of a polygon by summing angles: slow and unlike the code under test. */
function windingOf(p: readonly Point[], q: Point): number {
  let sum = 0;
  p.forEach((a, i) => {
    const b = p[(i + 1) % p.length]!;
    const [ax, ay, bx, by] = [a.x - q.x, a.y - q.y, b.x - q.x, b.y - q.y];
    sum += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  });
  return Math.round(sum / (2 * Math.PI));
}

describe('pointInRing', () => {
  it('agrees with the winding of the flattened ring wherever the chords leave no doubt', () => {
    fc.assert(
      fc.property(anyRing, anyPlace, (r, p) => {
        const chord = 0.001;
        fc.pre(pointRingDistance(r, p) > 2 * chord);
        const inside = windingOf(flattenRing(r, { tolerance: chord }), p) !== 0;
        expect(pointInRing(r, p)).toBe(inside ? 'inside' : 'outside');
        expect(pointInRing(reverseRing(r), p)).toBe(inside ? 'inside' : 'outside');
      }),
      { numRuns: 1500 },
    );
  });

  it('agrees with it level with corners, with the tops of arcs, and in line with chords', () => {
    fc.assert(
      fc.property(anyRing, fc.nat(), fc.nat(), gridNumber(-70, 70), gridNumber(-2, 2), (r, i, j, x, t) => {
        const v = r.vertices[i % r.vertices.length]!;
        const w = r.vertices[(i + 1) % r.vertices.length]!;
        const heights = [v.y, ...flattenRing(r, { tolerance: 0.5 }).map((p) => p.y)];
        const level = { x, y: heights[j % heights.length]! };
        const inLine = { x: v.x + t * (w.x - v.x), y: v.y + t * (w.y - v.y) };
        for (const p of [level, inLine]) {
          if (pointRingDistance(r, p) <= 0.002) continue;
          const inside = windingOf(flattenRing(r, { tolerance: 0.001 }), p) !== 0;
          expect(pointInRing(r, p)).toBe(inside ? 'inside' : 'outside');
        }
      }),
      { numRuns: 1500 },
    );
  });

  it('is right on a grid laid exactly through corners, centres, tops and chords of half circles', () => {
    // A stadium and a keyhole, whose corners, centres and extremes are all whole numbers.
    const stadium = ring([
      { x: -4, y: -2, bulge: 0 },
      { x: 4, y: -2, bulge: 1 },
      { x: 4, y: 2, bulge: 0 },
      { x: -4, y: 2, bulge: 1 },
    ]);
    const bitten = ring([
      { x: -4, y: 0, bulge: 1 },
      { x: 4, y: 0, bulge: 0 },
      { x: 2, y: 0, bulge: -1 },
      { x: -2, y: 0, bulge: 0 },
    ]);
    for (let x = -7; x <= 7; x += 0.5)
      for (let y = -5; y <= 5; y += 0.5) {
        const p = { x, y };
        const toStadium = Math.hypot(Math.max(0, Math.abs(x) - 4), y) - 2;
        expect(pointInRing(stadium, p)).toBe(toStadium === 0 ? 'on' : toStadium < 0 ? 'inside' : 'outside');
        const d = Math.hypot(x, y);
        const on = (y <= 0 && (d === 4 || d === 2)) || (y === 0 && d >= 2 && d <= 4);
        expect(pointInRing(bitten, p)).toBe(on ? 'on' : y < 0 && d > 2 && d < 4 ? 'inside' : 'outside');
      }
  });

  it('says on for half a grid step to both sides and no further', () => {
    for (const [dx, expected] of [
      [-0.00006, 'inside'],
      [-0.00004, 'on'],
      [0, 'on'],
      [0.00004, 'on'],
      [0.00006, 'outside'],
    ] as const) {
      expect(pointInRing(rectangleRing(0, 0, 10, 10), { x: 10 + dx, y: 3 })).toBe(expected);
      expect(pointInRing(circleRing({ x: 0, y: 0 }, 5), { x: 5 + dx, y: 0 })).toBe(expected);
    }
  });
});
