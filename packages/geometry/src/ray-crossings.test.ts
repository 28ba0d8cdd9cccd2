import fc from 'fast-check';
import { expect, it } from 'vitest';
import { rayCrossings } from './ray-crossings.js';
import { circleRing, ring, ringSegments } from './ring.js';
import { moveRing } from './transform.js';

const winding = (r: ReturnType<typeof ring>, p: { x: number; y: number }): number =>
  ringSegments(r).reduce((sum, s) => sum + rayCrossings(s, p), 0);

it('winds once round a place inside, wherever the arcs end: also in their highest and lowest points', () => {
  // A circle of two, three or four arcs, turned at will and by whole quarters, about places level with its middle.
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 4 }),
      fc.oneof(
        fc.integer({ min: 0, max: 7 }).map((k) => (k * Math.PI) / 4),
        fc.double({ min: -3, max: 3, noNaN: true }),
      ),
      fc.double({ min: -0.9, max: 0.9, noNaN: true }),
      fc.constantFrom(0, 0.5, -0.5, 0.25),
      (n, turn, x, y) => {
        const bulge = Math.tan(Math.PI / (2 * n));
        const corners = Array.from({ length: n }, (_, i) => ({
          x: Math.cos((2 * Math.PI * i) / n),
          y: Math.sin((2 * Math.PI * i) / n),
          bulge,
        }));
        const circle = moveRing({ mirror: false, turn, dx: 0, dy: 0 }, ring(corners));
        const away = Math.hypot(x, y);
        fc.pre(Math.abs(away - 1) > 1e-6);
        expect(winding(circle, { x, y })).toBe(away < 1 ? 1 : 0);
        expect(winding(circle, { x: x + 3, y })).toBe(0);
        expect(winding(circle, { x: x - 3, y })).toBe(0);
      },
    ),
  );
});

it('winds once in a stadium level with the middles of its half circles', () => {
  const stadium = ring([
    { x: 0, y: 0, bulge: 0 },
    { x: 0.5, y: 0, bulge: 1 },
    { x: 0.5, y: 0.5, bulge: 0 },
    { x: 0, y: 0.5, bulge: 1 },
  ]);
  expect(winding(stadium, { x: 0.25, y: 0.25 })).toBe(1);
  expect(winding(circleRing({ x: 0, y: 0 }, 2), { x: 0, y: 0 })).toBe(1);
});
