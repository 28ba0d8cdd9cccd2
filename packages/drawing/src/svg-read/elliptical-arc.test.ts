import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcAt, arcOfCommand, halfAxes } from './elliptical-arc.js';

type Row = readonly [number, number, number, number, number, 0 | 1, 0 | 1, number, number];

const read = ([x1, y1, rx, ry, rotation, large, positive, x2, y2]: Row) =>
  arcOfCommand({
    from: { x: x1, y: y1 },
    rx,
    ry,
    rotation,
    large: large === 1,
    positive: positive === 1,
    to: { x: x2, y: y2 },
  })!;

const DEGREE = Math.PI / 180;

describe('arcs by SVG 1.1 F.6.5 and F.6.6 (SVG 2, B.2.4 and B.2.5)', () => {
  // The last three rows are shapes of the specification's own examples (SVG 1.1, 8.3.8: M300,200 h-150
  // a150,150 0 1,0 150,-150 z and M275,175 v-150 a150,150 0 0,0 -150,150 z); centres and angles were computed from
  // F.6.5 by a second implementation, end points re-derived to 1e-9.
  it.each<[string, Row, number, [number, number], number, number, [number, number]]>([
    [
      'a turned ellipse, short way',
      [10, 10, 6, 3, 30, 0, 1, 14, 13],
      1,
      [9.578810662981041, 13.149742026293524],
      -101.63551395341368,
      50.366542817563435,
      [12.254301887134204, 11.326724616635065],
    ],
    [
      'a turned ellipse, long way',
      [10, 10, 6, 3, 30, 1, 0, 14, 13],
      1,
      [9.578810662981041, 13.149742026293524],
      -101.63551395341368,
      -309.63345718243653,
      [6.903319438827878, 14.97275943595198],
    ],
    ['radii too small: Λ is 25', [0, 0, 1, 1, 0, 0, 1, 10, 0], 5, [5, 0], 180, 180, [5, -5]],
    [
      'the specification’s three quarters',
      [150, 200, 150, 150, 0, 1, 0, 300, 50],
      1,
      [300, 200],
      180,
      -270,
      [406.06601717798213, 306.06601717798213],
    ],
    [
      'the specification’s quarter',
      [275, 25, 150, 150, 0, 0, 0, 125, 175],
      1,
      [275, 175],
      -90,
      -90,
      [168.93398282201787, 68.93398282201787],
    ],
    [
      'a plain quarter',
      [0, 0, 5, 5, 0, 0, 1, 5, 5],
      1,
      [0, 5],
      -90,
      90,
      [3.5355339059327378, 1.4644660940672627],
    ],
  ])('reads %s', (_, row, grew, centre, theta, sweep, middle) => {
    const { arc, radiusGrew, theta: found } = read(row);
    expect(radiusGrew).toBeCloseTo(grew, 12);
    expect(arc.centre.x).toBeCloseTo(centre[0], 9);
    expect(arc.centre.y).toBeCloseTo(centre[1], 9);
    expect(Math.cos(found - theta * DEGREE)).toBeCloseTo(1, 12);
    expect(arc.sweep / DEGREE).toBeCloseTo(sweep, 9);
    const half = arcAt(arc, arc.sweep / 2);
    expect(half.x).toBeCloseTo(middle[0], 9);
    expect(half.y).toBeCloseTo(middle[1], 9);
  });

  it('runs from its first to its last point on an ellipse of its radii, the way and the length that the flags ask', () => {
    const number = fc.double({ min: -500, max: 500, noNaN: true });
    const radius = fc.double({ min: 0.1, max: 400, noNaN: true });
    const flag = fc.constantFrom(0 as const, 1 as const);
    fc.assert(
      fc.property(number, number, radius, radius, number, flag, flag, number, number, (...row) => {
        const [x1, y1, rx, ry, , large, positive, x2, y2] = row;
        if (Math.hypot(x2 - x1, y2 - y1) < 1e-3) return;
        const { arc, radiusGrew } = read(row);
        const [from, to] = [arcAt(arc, 0), arcAt(arc, arc.sweep)];
        const near = 1e-7 * (1 + radiusGrew);
        expect(Math.hypot(from.x - x1, from.y - y1)).toBeLessThan(near);
        expect(Math.hypot(to.x - x2, to.y - y2)).toBeLessThan(near);
        expect(Math.sign(arc.sweep)).toBe(positive === 1 ? 1 : -1);
        if (radiusGrew === 1 && Math.abs(Math.abs(arc.sweep) - Math.PI) > 1e-6)
          expect(Math.abs(arc.sweep) > Math.PI).toBe(large === 1);
        const [a, b] = halfAxes(arc);
        expect(a / (Math.max(rx, ry) * radiusGrew)).toBeCloseTo(1, 9);
        expect(b / (Math.min(rx, ry) * radiusGrew)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('is a line where a radius is 0, and nothing where the ends are one (F.6.2)', () => {
    const at = { from: { x: 1, y: 1 }, rotation: 0, large: false, positive: true };
    expect(arcOfCommand({ ...at, rx: 0, ry: 5, to: { x: 9, y: 9 } })).toBeNull();
    expect(arcOfCommand({ ...at, rx: 5, ry: 5, to: { x: 1, y: 1 } })).toBeNull();
  });

  it('takes a negative radius for its size (F.6.6, step 1)', () => {
    expect(read([0, 0, -5, -5, 0, 0, 1, 5, 5])).toEqual(read([0, 0, 5, 5, 0, 0, 1, 5, 5]));
  });
});
