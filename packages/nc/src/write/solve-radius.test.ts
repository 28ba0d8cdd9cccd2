import fc from 'fast-check';
import { expect, it } from 'vitest';
import { solveRadius } from './solve-radius.js';

it('gives the radius of the circle through three places, rounded, and only where the rounding bows it by a step at most', () =>
  fc.assert(
    fc.property(
      fc.double({ min: 10, max: 1e6, noNaN: true }),
      fc.double({ min: 0.01, max: 3.1, noNaN: true }),
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.boolean(),
      (r, sweep, angle, ccw) => {
        const turn = ccw ? sweep : -sweep;
        const at = (a: number) => ({ x: r * Math.cos(a), y: r * Math.sin(a) });
        const [from, middle, to] = [at(angle), at(angle + turn / 2), at(angle + turn)];
        const found = solveRadius(from, to, middle, turn);
        const half = r * Math.sin(sweep / 2);
        const bow = (radius: number) => radius - Math.sqrt(radius ** 2 - half ** 2);
        if (found !== null) {
          expect(found).toBe(Math.round(found));
          expect(Math.abs(found - r)).toBeLessThanOrEqual(0.5 + 1e-6 * r);
          expect(Math.abs(bow(found) - bow(r))).toBeLessThanOrEqual(1 + 1e-6 * r);
        }
        // Up to 120° a whole radius serves: half a step of it bows the arc by |1 − 1 / cos 60°| / 2, half a step.
        if (r > 100 && sweep < (120 / 180) * Math.PI) expect(found).not.toBeNull();
      },
    ),
  ));

it('finds none for half a turn, none for a middle on the other side, and none where rounding would bow it', () => {
  expect(solveRadius({ x: 0, y: 0 }, { x: 20, y: 0 }, { x: 10, y: 10 }, -Math.PI)).toBeNull();
  expect(solveRadius({ x: 0, y: 0 }, { x: 20, y: 0 }, { x: 10, y: 5 }, 1)).toBeNull();
  const r = 1000.5;
  const a = (164 / 180) * Math.PI;
  const at = (t: number) => ({ x: r * Math.cos(t), y: r * Math.sin(t) });
  expect(solveRadius(at(0), at(a), at(a / 2), a)).toBeNull();
});
