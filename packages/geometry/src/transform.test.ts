import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyPoint, gridNumber } from '../test/arbitraries.js';
import { distance } from './point.js';
import { rectangleRing } from './ring.js';
import { type Motion, movePoint, moveRing, STAY } from './transform.js';

const anyMotion: fc.Arbitrary<Motion> = fc.record({
  mirror: fc.boolean(),
  turn: fc.oneof(
    gridNumber(-7, 7),
    fc.integer({ min: -9, max: 9 }).map((q) => (q * Math.PI) / 2),
  ),
  dx: gridNumber(-500, 500),
  dy: gridNumber(-500, 500),
});

describe('movePoint', () => {
  it('keeps distances', () => {
    fc.assert(
      fc.property(anyMotion, anyPoint(), anyPoint(), (m, p, q) => {
        expect(distance(movePoint(m, p), movePoint(m, q))).toBeCloseTo(distance(p, q), 9);
      }),
    );
  });

  it('mirrors first, then turns, then moves', () => {
    const p = movePoint({ mirror: true, turn: Math.PI / 2, dx: 10, dy: 20 }, { x: 3, y: 1 });
    expect(p).toEqual({ x: 9, y: 17 });
  });

  it('is exact at quarter turns, with no trace of −0', () => {
    for (let q = -8; q <= 8; q++) {
      const p = movePoint({ mirror: false, turn: (q * Math.PI) / 2, dx: 0, dy: 0 }, { x: 0.1, y: 0 });
      expect(Math.abs(p.x) + Math.abs(p.y)).toBe(0.1);
      expect(Object.is(p.x, -0) || Object.is(p.y, -0)).toBe(false);
    }
  });
});

describe('moveRing', () => {
  it('stays where nothing moves it', () => {
    expect(moveRing(STAY, rectangleRing(1, 2, 3, 4))).toEqual(rectangleRing(1, 2, 3, 4));
  });
});
