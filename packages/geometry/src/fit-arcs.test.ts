import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyPoint, gridNumber } from '../test/arbitraries.js';
import { type Curve, fitArcs } from './fit-arcs.js';
import { distance, type Point } from './point.js';
import { ringOfSegments, type Segment } from './ring.js';
import { ringArea } from './ring-area.js';
import { pointAlong, segmentLength, turnBetween } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';

const ellipse = (a: number, b: number, turn = 0): Curve => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const turned = (x: number, y: number): Point => ({ x: c * x - s * y, y: s * x + c * y });
  return {
    at: (t) => turned(a * Math.cos(t), b * Math.sin(t)),
    tangent: (t) => turned(-a * Math.sin(t), b * Math.cos(t)),
  };
};

const cubic = (p: readonly Point[]): Curve => {
  const sum = (w: readonly number[], q: readonly Point[]): Point => ({
    x: w.reduce((s, k, i) => s + k * q[i]!.x, 0),
    y: w.reduce((s, k, i) => s + k * q[i]!.y, 0),
  });
  const legs = [0, 1, 2].map((i) => ({ x: p[i + 1]!.x - p[i]!.x, y: p[i + 1]!.y - p[i]!.y }));
  return {
    at: (t) => sum([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3], p),
    tangent: (t) => sum([(1 - t) ** 2, 2 * t * (1 - t), t * t], legs),
  };
};

/** The greatest distance from the curve to the segments, and from the segments to the curve, by dense samples. */
function worst(
  curve: Curve,
  [a, b]: readonly [number, number],
  segments: readonly Segment[],
  n = 4000,
): number {
  const off = (p: Point): number => Math.min(...segments.map((s) => pointSegmentDistance(s, p)));
  const points = Array.from({ length: n + 1 }, (_, k) => curve.at(a + ((b - a) * k) / n));
  let most = Math.max(...points.map(off));
  const step = Math.max(...points.slice(1).map((p, k) => distance(p, points[k]!)));
  for (const s of segments)
    for (const f of [0.2, 0.5, 0.9]) {
      const p = pointAlong(s, f);
      const near = Math.min(...points.map((q) => distance(p, q)));
      // The nearest sample is off by at most half a step along the curve.
      most = Math.max(most, Math.sqrt(Math.max(0, near * near - (step * step) / 4)));
    }
  return most;
}

const smooth = (segments: readonly Segment[]): boolean =>
  segments.every(
    (s, i) => i === 0 || Math.abs(turnBetween(segments[i - 1]!, s)) < 1e-5 + 1e-6 / segmentLength(s),
  );

describe('fitArcs', () => {
  it('keeps within the tolerance of ellipses both ways, without a corner, from end to end', () => {
    fc.assert(
      fc.property(
        gridNumber(1, 100),
        gridNumber(1, 100),
        gridNumber(-3, 3),
        gridNumber(0.2, 6),
        fc.constantFrom(0.1, 0.01, 0.001),
        (a, b, from, span, tolerance) => {
          const c = ellipse(a, b, 0.3);
          const range = [from, from + span] as const;
          const segments = fitArcs(c, range, { tolerance });
          expect(distance(segments[0]!.from, c.at(from))).toBe(0);
          expect(distance(segments[segments.length - 1]!.to, c.at(from + span))).toBe(0);
          for (let i = 1; i < segments.length; i++) expect(segments[i]!.from).toEqual(segments[i - 1]!.to);
          expect(smooth(segments)).toBe(true);
          expect(worst(c, range, segments, 1000)).toBeLessThan(tolerance * 1.0001 + 1e-9);
        },
      ),
      { numRuns: 60, seed: 21 },
    );
  });

  it('keeps within the tolerance of cubics of any shape: inflections, loops and all but cusps', () => {
    fc.assert(
      fc.property(
        fc.tuple(anyPoint(50), anyPoint(50), anyPoint(50), anyPoint(50)),
        fc.constantFrom(0.1, 0.01),
        (p, tolerance) => {
          fc.pre(distance(p[0], p[1]) > 1 && distance(p[2], p[3]) > 1);
          const c = cubic(p);
          const segments = fitArcs(c, [0, 1], { tolerance });
          expect(worst(c, [0, 1], segments, 1500)).toBeLessThan(tolerance * 1.0001 + 1e-9);
        },
      ),
      { numRuns: 100, seed: 22 },
    );
  });

  it('needs fewer pieces for more tolerance, by the cube root as pairs of arcs do', () => {
    const c = ellipse(60, 25);
    const counts = [1e-1, 1e-2, 1e-3, 1e-4, 1e-5].map(
      (tolerance) => fitArcs(c, [0, 2 * Math.PI], { tolerance }).length,
    );
    for (let i = 1; i < counts.length; i++) {
      expect(counts[i]!).toBeGreaterThan(counts[i - 1]!);
      // Ten times as near takes 2.15 times as many; halving is at most twice off.
      expect(counts[i]! / counts[i - 1]!).toBeLessThan(4.4);
    }
    expect(ringArea(ringOfSegments(fitArcs(c, [0, 2 * Math.PI], { tolerance: 1e-5 })))).toBeCloseTo(
      Math.PI * 60 * 25,
      2,
    );
  });

  it('gives one line for a line, one arc for an ellipse of equal axes and for a rational circle', () => {
    const line: Curve = {
      at: (t) => ({ x: t * t * t, y: 2 * t * t * t }),
      tangent: (t) => ({ x: 3 * t * t, y: 6 * t * t }),
    };
    expect(fitArcs(line, [0, 4], { tolerance: 0.001 })).toEqual([
      { kind: 'line', from: { x: 0, y: 0 }, to: { x: 64, y: 128 } },
    ]);
    for (const span of [0.05, 1, Math.PI, 5, 6.2]) {
      const arcs = fitArcs(ellipse(25, 25), [1, 1 + span], { tolerance: 0.001 });
      expect(arcs).toHaveLength(1);
      expect(arcs[0]).toMatchObject({
        kind: 'arc',
        sweep: expect.closeTo(span, 9),
        radius: expect.closeTo(25, 8),
      });
    }
    const [turn, ...rest] = fitArcs(ellipse(25, 25), [0, 2 * Math.PI], { tolerance: 0.001 });
    expect(rest).toEqual([]);
    expect(turn).toMatchObject({ kind: 'arc', sweep: 2 * Math.PI });
    expect(ringArea(ringOfSegments([turn!]))).toBeCloseTo(Math.PI * 625, 8);
    // A quarter circle as a rational quadratic Bézier curve with weights 1, √½, 1 (reference value G10).
    const w = Math.SQRT1_2;
    const weights = (t: number) => [(1 - t) ** 2, 2 * t * (1 - t) * w, t * t] as const;
    const at = (t: number): Point => {
      const [a, b, c] = weights(t);
      return { x: (a + b) / (a + b + c), y: (b + c) / (a + b + c) };
    };
    expect(at(0.25).x).toBeCloseTo(0.9297883, 6);
    const circle: Curve = { at, tangent: (t) => ({ x: -at(t).y, y: at(t).x }) };
    expect(fitArcs(circle, [0, 1], { tolerance: 1e-4 })).toMatchObject([
      { kind: 'arc', radius: expect.closeTo(1, 8), sweep: expect.closeTo(Math.PI / 2, 8) },
    ]);
  });

  it('finds the radii at the vertices of an ellipse, b²/a and a²/b', () => {
    const segments = fitArcs(ellipse(40, 20), [0, 2 * Math.PI], { tolerance: 1e-4 });
    const first = segments[0]!;
    expect(first.kind === 'arc' && Math.abs(first.radius - 10)).toBeLessThan(0.2);
    expect(segments.every((s) => s.kind === 'arc')).toBe(true);
    // Perimeter by Ramanujan's second formula, good to 1e-8 here.
    const h = (20 / 60) ** 2;
    const perimeter = Math.PI * 60 * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    expect(segments.reduce((sum, s) => sum + segmentLength(s), 0)).toBeCloseTo(perimeter, 2);
  });

  it('sees a narrow bump between samples when the curve tells how far its direction swings', () => {
    const [place, width, height] = [0.531, 0.0008, 0.5];
    const bump = (t: number) => height * Math.exp(-(((t - place) / width) ** 2));
    const slope = (t: number) => (-2 * (t - place) * bump(t)) / width ** 2;
    const curve: Curve = {
      at: (t) => ({ x: 100 * t, y: bump(t) }),
      tangent: (t) => ({ x: 100, y: slope(t) }),
    };
    const most = Math.atan((height * Math.sqrt(2)) / width / Math.E ** 0.5 / 100);
    const told: Curve = {
      ...curve,
      swing: (a, b) => (a < place + 8 * width && b > place - 8 * width ? 2 * most : 1e-9),
    };
    const range = [0, 1] as const;
    const missed = (c: Curve): number => {
      const segments = fitArcs(c, range, { tolerance: 0.01 });
      const points = Array.from({ length: 2000 }, (_, k) => curve.at(0.52 + k / 100_000));
      return Math.max(...points.map((p) => Math.min(...segments.map((s) => pointSegmentDistance(s, p)))));
    };
    expect(missed(told)).toBeLessThan(0.01);
    // Without it nothing shows at the samples: what the docstring says.
    expect(missed(curve)).toBeGreaterThan(0.1);
  });

  it('ends at a corner inside the range with pieces as short as the tolerance, still near', () => {
    const corner: Curve = {
      at: (t) => (t < 1 / 3 ? { x: 30 * t, y: 0 } : { x: 10, y: 30 * (t - 1 / 3) }),
      tangent: (t) => (t < 1 / 3 ? { x: 1, y: 0 } : { x: 0, y: 1 }),
    };
    const segments = fitArcs(corner, [0, 1], { tolerance: 0.01 });
    expect(segments.length).toBeLessThan(12);
    expect(worst(corner, [0, 1], segments)).toBeLessThan(0.0101);
  });

  it('refuses an empty range, no tolerance, and a curve that is not finite', () => {
    const c = ellipse(3, 2);
    expect(() => fitArcs(c, [1, 1], { tolerance: 0.1 })).toThrow(RangeError);
    expect(() => fitArcs(c, [0, 1], { tolerance: 0 })).toThrow(RangeError);
    expect(() => fitArcs({ ...c, at: () => ({ x: Number.NaN, y: 0 }) }, [0, 1], { tolerance: 1 })).toThrow(
      RangeError,
    );
  });
});
