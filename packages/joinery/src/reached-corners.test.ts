import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { standsProud } from './reached-corners.js';

describe('how far a plate stands proud of an unrelieved corner', () => {
  it.each([
    // r − √(r² − (r − c)²), by hand.
    [3, Math.PI / 2, 0, 3],
    [3, Math.PI / 2, 0.05, 2.4546],
    [3, Math.PI / 2, 3, 0],
    [3.175, Math.PI / 2, 0, 3.175],
    // Without clearance it stops where the round leaves the wall: r / tan(θ/2).
    [3.175, Math.PI / 3, 0, 5.4993],
    [3.175, (2 * Math.PI) / 3, 0, 1.8331],
  ])('with radius %d, opening %d and clearance %d is %d mm', (r, opening, c, proud) =>
    expect(standsProud(r, opening, c)).toBeCloseTo(proud, 4),
  );

  it('leaves the arris on the round and on its own line', () => {
    const radius = fc.double({ min: 1, max: 6, noNaN: true });
    const opening = fc.double({ min: 1, max: 2.2, noNaN: true });
    const share = fc.double({ min: 0, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(radius, opening, share, (r, theta, s) => {
        const c = s * r;
        const proud = standsProud(r, theta, c);
        fc.pre(proud > 0);
        // One wall along x, the corner at the origin: the arris at height c.
        const x = proud + c / Math.tan(theta);
        expect(Math.hypot(x - r / Math.tan(theta / 2), c - r)).toBeCloseTo(r, 9);
      }),
    );
  });
});
