import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gridNumber } from '../test/arbitraries.js';
import { distance, type Point } from './point.js';
import { cornerRelief } from './relief.js';
import { relieveRing } from './relieve-ring.js';
import { polygonRing, type Ring, reverseRing, ring, ringSegments, type Segment } from './ring.js';
import { ringArea } from './ring-area.js';

/**
 * Reference table corner_relief.json, rows for r = 3.175 mm (derived and grid-checked there): the angle of the
 * void; how far a plain cutter stops from the corner beyond its own radius; and of both forms the travel, the
 * overcut past a wall, the chord on a wall and the area beyond the walls.
 */
const TABLE = [
  {
    theta: 30,
    gap: 9.092258,
    overcut: 2.35325,
    chord: 6.133629,
    area: 21.350702,
    tTravel: 11.849261,
    tOvercut: 5.924631,
  },
  {
    theta: 60,
    gap: 3.175,
    overcut: 1.5875,
    chord: 5.499261,
    area: 12.382734,
    tTravel: 5.499261,
    tOvercut: 4.7625,
  },
  {
    theta: 90,
    gap: 1.315128,
    overcut: 0.929936,
    chord: 4.490128,
    area: 5.753984,
    tTravel: 3.175,
    tOvercut: 3.175,
  },
  {
    theta: 120,
    gap: 0.491174,
    overcut: 0.425369,
    chord: 3.175,
    area: 1.826328,
    tTravel: 1.833087,
    tOvercut: 1.5875,
  },
  {
    theta: 150,
    gap: 0.112002,
    overcut: 0.108186,
    chord: 1.643501,
    area: 0.23789,
    tTravel: 0.850739,
    tOvercut: 0.425369,
  },
] as const;
const R = 3.175;

/** A void whose corner at the origin has the angle θ: one wall on +x, walked counter-clockwise. */
function wedge(theta: number, length = 60): Ring {
  const at = (a: number): Point => ({ x: length * Math.cos(a), y: length * Math.sin(a) });
  return polygonRing([{ x: 0, y: 0 }, at(0), at(theta)]);
}

/** The two segments that meet in vertex `i`. */
function sides(r: Ring, i: number): { before: Segment; after: Segment } {
  const s = ringSegments(r);
  return { before: s[(i + s.length - 1) % s.length]!, after: s[i]! };
}

function discOf(relief: ReturnType<typeof cornerRelief>): { centre: Point; radius: number } {
  if ('problem' in relief) throw new Error(relief.problem);
  return relief;
}

function ringOf(result: ReturnType<typeof relieveRing>): Ring {
  if ('problem' in result) throw new Error(result.problem);
  return result.ring;
}

/** Signed distance of a point over the wall line from the origin in direction `angle`, to its left. */
const over = (p: Point, angle: number): number => Math.cos(angle) * p.y - Math.sin(angle) * p.x;

describe('cornerRelief', () => {
  it.each(TABLE)('goes r(1/sin(θ/2) − 1) deeper on the diagonal, θ = $theta° (reference table)', (row) => {
    const theta = (row.theta * Math.PI) / 180;
    const void_ = wedge(theta);
    const relief = { radius: R, surplus: 0, form: 'diagonal', air: 'left' } as const;
    const disc = discOf(cornerRelief({ ...sides(void_, 0), ...relief }));
    // A cutter that only touches both walls stands r/sin(θ/2) from the corner: its distance to each wall, the
    // distance times sin(θ/2), is r. On the corner it stands at r. The difference is the travel.
    const plain = R / Math.sin(theta / 2);
    expect(plain - distance(disc.centre, { x: 0, y: 0 })).toBeCloseTo(row.gap, 6);
    expect(disc.centre.y / disc.centre.x).toBeCloseTo(Math.tan(theta / 2), 9);
    // Each wall is r·sin(θ/2) from the centre, so that r(1 − sin(θ/2)) is cut into it.
    expect(R - over(disc.centre, 0)).toBeCloseTo(row.overcut, 6);
    expect(R + over(disc.centre, theta)).toBeCloseTo(row.overcut, 6);
    const relieved = ringOf(relieveRing(void_, 'inside', [{ ...disc, tag: 'r0', corner: { x: 0, y: 0 } }]));
    expect(ringArea(relieved) - ringArea(void_)).toBeCloseTo(row.area, 5);
    const arc = ringSegments(relieved).find((s) => s.kind === 'arc')!;
    expect(distance(arc.from, { x: 0, y: 0 })).toBeCloseTo(row.chord, 6);
    expect(distance(arc.to, { x: 0, y: 0 })).toBeCloseTo(row.chord, 6);
  });

  it('goes 0.4142 r deeper in a square corner', () => {
    const disc = discOf(
      cornerRelief({ ...sides(wedge(Math.PI / 2), 0), radius: 1, surplus: 0, form: 'least', air: 'left' }),
    );
    expect(Math.SQRT2 - Math.hypot(disc.centre.x, disc.centre.y)).toBeCloseTo(0.414214, 6);
  });

  it.each(TABLE)(
    'travels r·cot(θ/2) along the wall and cuts r(1 + cos θ) into the other, θ = $theta°',
    (row) => {
      const theta = (row.theta * Math.PI) / 180;
      const void_ = wedge(theta);
      for (const guide of ['before', 'after'] as const) {
        const disc = discOf(
          cornerRelief({
            ...sides(void_, 0),
            radius: R,
            surplus: 0,
            form: 'along the wall',
            guide,
            air: 'left',
          }),
        );
        const [height, other] =
          guide === 'after'
            ? [over(disc.centre, 0), -over(disc.centre, theta)]
            : [-over(disc.centre, theta), over(disc.centre, 0)];
        // The guide is touched, not cut; the plain cutter touches it at r·cot(θ/2) from the corner, this one in it.
        expect(height).toBeCloseTo(R, 9);
        expect(R / Math.tan(theta / 2)).toBeCloseTo(row.tTravel, 6);
        expect(distance(disc.centre, { x: 0, y: 0 })).toBeCloseTo(R, 9);
        expect(R - other).toBeCloseTo(row.tOvercut, 6);
        const relieved = ringOf(
          relieveRing(void_, 'inside', [{ ...disc, tag: 'r0', corner: { x: 0, y: 0 } }]),
        );
        const wall = ringSegments(relieved).find(
          (s) => s.kind === 'line' && (guide === 'after' ? s.from : s.to).x === 0,
        );
        expect(distance(wall!.from, wall!.to)).toBeCloseTo(60, 9);
        if (row.theta === 90)
          expect(ringArea(relieved) - ringArea(void_)).toBeCloseTo((Math.PI * R * R) / 2, 9);
      }
    },
  );

  it('clears the corner by the surplus: on the diagonal inside the disc, along the wall by travel beyond it', () => {
    fc.assert(
      fc.property(gridNumber(0.4, 2.8), gridNumber(0.5, 6), gridNumber(0, 0.3), (theta, radius, surplus) => {
        const s = { ...sides(wedge(theta, 200), 0), radius, surplus, air: 'left' } as const;
        const diagonal = discOf(cornerRelief({ ...s, form: 'diagonal' }));
        expect(radius - Math.hypot(diagonal.centre.x, diagonal.centre.y)).toBeCloseTo(surplus, 9);
        const t = discOf(cornerRelief({ ...s, form: 'along the wall', guide: 'after' }));
        expect(t.centre.x).toBeCloseTo(-surplus, 9);
        expect(t.centre.y).toBeCloseTo(radius, 9);
        const least = discOf(cornerRelief({ ...s, form: 'least' }));
        expect(Math.hypot(least.centre.x, least.centre.y)).toBeCloseTo(radius, 9);
      }),
    );
  });

  it('works on the reflex corner of an outline just as in a void, the air being on the right', () => {
    const asVoid = wedge(1.3);
    const asOutline = reverseRing(asVoid);
    const i = asOutline.vertices.findIndex((v) => v.x === 0 && v.y === 0);
    const how = { radius: 2, surplus: 0.1, form: 'diagonal' } as const;
    const one = discOf(cornerRelief({ ...sides(asVoid, 0), ...how, air: 'left' }));
    const two = discOf(cornerRelief({ ...sides(asOutline, i), ...how, air: 'right' }));
    expect(distance(one.centre, two.centre)).toBeLessThan(1e-12);
  });

  it('refuses a corner that is outside or none, and a guide hollower than the cutter', () => {
    const how = { radius: 2, surplus: 0, form: 'diagonal' } as const;
    expect(cornerRelief({ ...sides(wedge(1), 0), ...how, air: 'right' })).toHaveProperty('problem');
    const straight = {
      ...sides(
        polygonRing([
          { x: 0, y: 0 },
          { x: 5, y: 0 },
          { x: 9, y: 0 },
          { x: 5, y: 5 },
        ]),
        1,
      ),
    };
    expect(cornerRelief({ ...straight, ...how, air: 'left' })).toHaveProperty('problem');
    const bowl = ring([
      { x: 0, y: 0, bulge: 1 },
      { x: 6, y: 0, bulge: 0 },
    ]);
    const t = { ...sides(bowl, 0), surplus: 0, form: 'along the wall', guide: 'after', air: 'left' } as const;
    expect(cornerRelief({ ...t, radius: 2.9 })).not.toHaveProperty('problem');
    expect(cornerRelief({ ...t, radius: 3.1 })).toEqual({ problem: expect.stringContaining('hollower') });
  });

  it('throws on a radius or surplus that cannot be', () => {
    const s = { ...sides(wedge(1), 0), form: 'diagonal', air: 'left' } as const;
    for (const [radius, surplus] of [
      [0, 0],
      [-1, 0],
      [Number.NaN, 0],
      [2, -0.1],
      [2, 2],
      [2, Number.NaN],
    ] as const)
      expect(() => cornerRelief({ ...s, radius, surplus })).toThrow(RangeError);
  });
});
