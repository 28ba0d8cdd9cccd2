import { type Point, pointAlong, pointSegmentDistance, type Segment, segmentOfBulge } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcOfCubic, arcsOfCubic, circleOf, roundness, type Stretch } from './arcs-of-cubic.js';
import { type Cubic, cubicAt, cubicOfQuadratic } from './cubic.js';

const WITHIN = 0.01;

function segmentsOf(c: Cubic, stretches: readonly Stretch[]): Segment[] {
  let from: Point = c[0];
  return stretches.map((s) => {
    const segment = segmentOfBulge(from, s.to, s.bulge);
    from = s.to;
    return segment;
  });
}

/** The greatest distance of the curve from its arcs and of the arcs from the curve, by dense sampling. */
function farthest(c: Cubic, stretches: readonly Stretch[], samples = 400): number {
  const segments = segmentsOf(c, stretches);
  const curve = Array.from({ length: samples + 1 }, (_, i) => cubicAt(c, i / samples));
  const chords: Segment[] = curve.slice(1).map((to, i) => ({ kind: 'line', from: curve[i]!, to }));
  const near = (p: Point, to: readonly Segment[]) => Math.min(...to.map((s) => pointSegmentDistance(s, p)));
  const there = Math.max(...curve.map((p) => near(p, segments)));
  const back = Math.max(
    ...segments.flatMap((s) => [0.25, 0.5, 0.75].map((f) => near(pointAlong(s, f), chords))),
  );
  return Math.max(there, back);
}

const point = fc.record({
  x: fc.double({ min: -300, max: 300, noNaN: true }),
  y: fc.double({ min: -300, max: 300, noNaN: true }),
});

describe('arcs of a cubic', () => {
  it('stays within the tolerance, and ends where the curve ends', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const cubic: Cubic = [a, b, c, d];
        if (arcOfCubic(cubic) !== null) return;
        const found = arcsOfCubic(cubic, WITHIN);
        expect(found.at(-1)!.to).toEqual(d);
        // The chords of the sampled curve are themselves off it by less than a quarter of the tolerance.
        expect(farthest(cubic, found, 1200)).toBeLessThanOrEqual(WITHIN * 1.25);
      }),
      { numRuns: 40 },
    );
  });

  it.each<[string, Cubic]>([
    [
      'a cusp',
      [
        { x: 0, y: 0 },
        { x: 100, y: 100 },
        { x: 0, y: 100 },
        { x: 100, y: 0 },
      ],
    ],
    [
      'a loop',
      [
        { x: 0, y: 0 },
        { x: 200, y: 100 },
        { x: -100, y: 100 },
        { x: 100, y: 0 },
      ],
    ],
    [
      'a curve back to its start',
      [
        { x: 0, y: 0 },
        { x: 90, y: 60 },
        { x: -90, y: 60 },
        { x: 0, y: 0 },
      ],
    ],
    [
      'a line there and back',
      [
        { x: 0, y: 0 },
        { x: 50, y: 0 },
        { x: -20, y: 0 },
        { x: 10, y: 0 },
      ],
    ],
    [
      'a curve without arms',
      [
        { x: 0, y: 0 },
        { x: 0, y: 0 },
        { x: 9, y: 9 },
        { x: 9, y: 9 },
      ],
    ],
    [
      'an s',
      [
        { x: 0, y: 0 },
        { x: 100, y: 0 },
        { x: 0, y: 50 },
        { x: 100, y: 50 },
      ],
    ],
    ['a parabola', cubicOfQuadratic({ x: 0, y: 0 }, { x: 50, y: 100 }, { x: 100, y: 0 })],
  ])('follows %s', (_, cubic) => {
    const found = arcsOfCubic(cubic, WITHIN);
    expect(farthest(cubic, found, 4000)).toBeLessThanOrEqual(WITHIN);
    expect(found.length).toBeLessThan(60);
  });

  it('answers for curves of no size and of the greatest size', () => {
    const o = { x: 3, y: 4 };
    expect(arcsOfCubic([o, o, o, o], WITHIN)).toEqual([{ bulge: 0, to: o }]);
    const far = 1e9;
    const big = arcsOfCubic(
      [
        { x: 0, y: 0 },
        { x: far, y: far },
        { x: -far, y: far },
        { x: far, y: 0 },
      ],
      WITHIN,
    );
    expect(big.length).toBeLessThan(40_000);
    for (const s of big) expect(Number.isFinite(s.bulge + s.to.x + s.to.y)).toBe(true);
  });

  it('leaves fewer than a third of the pieces that lines would need', () => {
    const cubic: Cubic = [
      { x: 0, y: 0 },
      { x: 200, y: 300 },
      { x: 400, y: -100 },
      { x: 600, y: 200 },
    ];
    // Chords of a curve of radius r leave it by l²/(8r): about 600 / √(8 · 300 · 0.01) of them here.
    expect(arcsOfCubic(cubic, WITHIN).length).toBeLessThan(600 / Math.sqrt(8 * 300 * 0.01) / 3);
  });
});

describe('a cubic that stands for an arc', () => {
  const arms = (sweep: number, r: number, k = (4 / 3) * Math.tan(sweep / 4)): Cubic => {
    const [c, s] = [Math.cos(sweep), Math.sin(sweep)];
    return [
      { x: r, y: 0 },
      { x: r, y: k * r },
      { x: r * (c + k * s), y: r * (s - k * c) },
      { x: r * c, y: r * s },
    ];
  };

  it('becomes that arc, whatever its size, with arms of 0.5523 r as of the exact length', () => {
    for (const r of [3, 40, 400])
      for (const k of [0.5523, 0.552285, (4 / 3) * (Math.SQRT2 - 1)]) {
        const found = arcsOfCubic(arms(Math.PI / 2, r, k), WITHIN);
        expect(found.length).toBe(1);
        const { centre, radius } = circleOf({ x: r, y: 0 }, found[0]!.to, found[0]!.bulge);
        expect(Math.hypot(centre.x, centre.y)).toBeLessThan(1e-9 * r);
        expect(radius).toBeCloseTo(r, 9);
      }
  });

  // Reference value G10: the usual quarter circle leaves the circle by 2.725e-4 of the radius, outward only.
  it('leaves its arc by the published share of the radius', () => {
    expect(roundness(Math.PI / 2)).toBeCloseTo(2.725e-4, 6);
    const quarter = arms(Math.PI / 2, 1);
    const out = Array.from({ length: 1001 }, (_, i) => cubicAt(quarter, i / 1000)).map(
      (p) => Math.hypot(p.x, p.y) - 1,
    );
    expect(Math.max(...out)).toBeCloseTo(2.725e-4, 7);
    expect(Math.min(...out)).toBeGreaterThan(-1e-12);
  });

  it('is not seen in a curve with other arms, nor in one that is bent unevenly', () => {
    expect(arcOfCubic(arms(Math.PI / 2, 100, 0.56))).toBeNull();
    expect(arcOfCubic(arms(Math.PI / 2, 100, 0.53))).toBeNull();
    const [a, b, c, d] = arms(Math.PI / 2, 100);
    expect(arcOfCubic([a, { x: b.x, y: b.y * 1.02 }, c, d])).toBeNull();
    expect(arcOfCubic([a, b, c, { x: d.x, y: d.y * 0.7 }])).toBeNull();
  });
});
