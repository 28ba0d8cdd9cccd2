import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Affine, affinePoint, affineSegment, inverseAffine } from './affine.js';
import { segmentOfBulge } from './ring.js';

const small = fc.double({ min: -0.01, max: 0.01, noNaN: true });
const map = fc
  .record({ a: small, b: small, c: small, d: small })
  .map((m): Affine => ({ a: 1 + m.a, b: m.b, c: m.c, d: 1 + m.d }));
const coordinate = fc.double({ min: -500, max: 500, noNaN: true });

describe('linear maps of segments', () => {
  it('are undone by their inverse', () => {
    fc.assert(
      fc.property(map, coordinate, coordinate, (m, x, y) => {
        const back = affinePoint(inverseAffine(m), affinePoint(m, { x, y }));
        expect(back.x).toBeCloseTo(x, 9);
        expect(back.y).toBeCloseTo(y, 9);
      }),
    );
    expect(() => inverseAffine({ a: 1, b: 1, c: 1, d: 1 })).toThrow(RangeError);
  });

  it('follow the ellipse that an arc becomes within the tolerance, from end to end', () => {
    fc.assert(
      fc.property(map, fc.double({ min: 0.1, max: 3, noNaN: true }), fc.boolean(), (m, size, left) => {
        const arc = segmentOfBulge({ x: 3, y: 2 }, { x: 103, y: 40 }, left ? size : -size);
        if (arc.kind !== 'arc') throw new Error('no arc');
        const image = affineSegment(m, arc, { tolerance: 0.001 });
        expect(image[0]!.from.x).toBeCloseTo(affinePoint(m, arc.from).x, 9);
        expect(image.at(-1)!.to.y).toBeCloseTo(affinePoint(m, arc.to).y, 9);
        const undo = inverseAffine(m);
        // Carried back, the middle of every piece lies on the circle that it came from; the inverse stretches by 2 % at the most.
        for (const s of image) {
          const middle =
            s.kind === 'line'
              ? { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 }
              : (() => {
                  const t = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep / 2;
                  return { x: s.centre.x + s.radius * Math.cos(t), y: s.centre.y + s.radius * Math.sin(t) };
                })();
          const there = affinePoint(undo, middle);
          expect(
            Math.abs(Math.hypot(there.x - arc.centre.x, there.y - arc.centre.y) - arc.radius),
          ).toBeLessThan(0.00105);
        }
      }),
      { numRuns: 60 },
    );
  });
});
