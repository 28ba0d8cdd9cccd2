import { loadClip, type Point } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allFine, fineNear } from './fineness.js';
import type { Stretch } from './stretch.js';
import { insidePolygon, makeSweeper, type Patch, polygonArea } from './sweeper.js';
import { type Track, trackBelow } from './track.js';

const clip = await loadClip();

const stretch = (change: Partial<Stretch>): Stretch => ({
  index: 0,
  line: 1,
  kind: 'linear',
  from: { x: 0, y: 0, z: 0 },
  to: { x: 0, y: 0, z: 0 },
  centre: null,
  sweep: 0,
  feed: 1000,
  spindle: 1000,
  tool: 1,
  radius: 3,
  drill: false,
  point: 0,
  ...change,
});
const arc = (cx: number, cy: number, r: number, start: number, sweep: number, radius: number): Track => {
  const at = (a: number) => ({ x: cx + r * Math.cos(a), y: cy + r * Math.sin(a), z: 0 });
  return trackBelow(
    stretch({ kind: 'arc', from: at(start), to: at(start + sweep), centre: { x: cx, y: cy }, sweep, radius }),
    0,
  )!;
};
const line = (a: Point, b: Point, radius: number): Track =>
  trackBelow(stretch({ from: { ...a, z: 0 }, to: { ...b, z: 0 }, radius }), 0)!;
const loop = (points: readonly Point[], radius: number): Track[] =>
  points.map((p, i) => line(p, points[(i + 1) % points.length]!, radius));
const area = (patches: readonly Patch[]): number =>
  clip.union(patches.flatMap((p) => [...p.polygons])).reduce((sum, p) => sum + polygonArea(p), 0);
const removed = (patches: readonly Patch[], p: Point): boolean =>
  patches.some((x) => x.polygons.filter((q) => insidePolygon(q, p)).length % 2 === 1);

/**
 * A second sweep, built differently: the path is walked in steps of 0.01 mm or less and the place is asked for its
 * distance to each of them. Nothing of it is shared with the polygons or with `trackDistance`.
 */
function walked(t: Track, p: Point): number {
  const length = t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : t.r * Math.abs(t.sweep);
  const n = Math.max(1, Math.ceil(length / 0.01));
  let best = Infinity;
  for (let i = 0; i <= n; i++) {
    const k = i / n;
    const q =
      t.kind === 'line'
        ? [t.a.x + (t.b.x - t.a.x) * k, t.a.y + (t.b.y - t.a.y) * k]
        : [
            t.centre.x + t.r * Math.cos(t.start + t.sweep * k),
            t.centre.y + t.r * Math.sin(t.start + t.sweep * k),
          ];
    best = Math.min(best, Math.hypot(p.x - q[0]!, p.y - q[1]!));
  }
  return best;
}

const tracks = fc.array(
  fc.oneof(
    fc
      .tuple(
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 40 }),
      )
      .map(
        ([a, b, c, d]) =>
          (radius: number) =>
            line({ x: a, y: b }, { x: c, y: d }, radius),
      ),
    fc
      .tuple(
        fc.integer({ min: 5, max: 35 }),
        fc.integer({ min: 5, max: 35 }),
        fc.constantFrom(0.1, 1, 2.5, 3, 3.4, 6, 11),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.constantFrom(-2 * Math.PI, -Math.PI, -1, -0.2, 0.3, 1.5, 4, 2 * Math.PI),
      )
      .map(
        ([x, y, r, start, sweep]) =>
          (radius: number) =>
            arc(x, y, r, start, sweep, radius),
      ),
  ),
  { minLength: 1, maxLength: 6 },
);

describe('what a cutter sweeps', () => {
  it('round a convex loop obeys Steiner’s formula on its outer side', () => {
    // Steiner: A' = A + P·d + π·d² (reference value G3: 100 × 50, d = 3.175 gives 5984.169217).
    const patches = makeSweeper(clip, allFine).sweep(
      loop(
        [
          { x: 0, y: 0 },
          { x: 100, y: 0 },
          { x: 100, y: 50 },
          { x: 0, y: 50 },
        ],
        3.175,
      ),
    );
    const outer = patches[0]!.polygons.find((p) => polygonArea(p) > 0)!;
    // The caps are inscribed within 0.0003 mm round a circle of 20 mm.
    expect(polygonArea(outer)).toBeGreaterThan(5984.169217 - 20 * 0.0003);
    expect(polygonArea(outer)).toBeLessThanOrEqual(5984.169217 + 1e-5);
    // Inside, the mitres of a rectangle: (100 − 2d)(50 − 2d).
    const inner = patches[0]!.polygons.find((p) => polygonArea(p) < 0)!;
    expect(-polygonArea(inner)).toBeCloseTo((100 - 6.35) * (50 - 6.35), 5);
  });

  it('along circles is a ring or a disc, tight or wide', () => {
    for (const r of [0.1, 2, 2.99, 3, 3.5, 8]) {
      const outer = Math.PI * (r + 3) ** 2;
      const inner = r > 3 ? Math.PI * (r - 3) ** 2 : 0;
      const got = area(makeSweeper(clip, allFine).sweep([arc(20, 20, r, 1, 2 * Math.PI, 3)]));
      expect(Math.abs(got - (outer - inner))).toBeLessThan(2 * Math.PI * (r + 3) * 0.0006);
    }
  });

  it('is what a path walked step by step says, wherever it is asked', () => {
    fc.assert(
      fc.property(tracks, fc.constantFrom(1.5, 3, 4.7625), (made, radius) => {
        const all = made.map((make) => make(radius));
        const patches = makeSweeper(clip, allFine).sweep(all);
        for (let x = -7; x < 47; x += 3.7)
          for (let y = -7; y < 47; y += 3.7) {
            const gap = Math.min(...all.map((t) => walked(t, { x, y }))) - radius;
            // Nearer to the edge than this both answers are right: chords and steps.
            if (Math.abs(gap) > 0.001) expect(removed(patches, { x, y })).toBe(gap < 0);
          }
      }),
      { numRuns: 40 },
    );
  });

  it('does not depend on the order, on doubles, or on cutting a way into pieces', () => {
    fc.assert(
      fc.property(tracks, fc.integer({ min: 1, max: 9 }), (made, tenth) => {
        const all = made.map((make) => make(3));
        const one = makeSweeper(clip, allFine).sweep(all);
        const pieces = all.flatMap((t): Track[] => {
          if (t.kind === 'arc') return [t];
          const m = { x: t.a.x + ((t.b.x - t.a.x) * tenth) / 10, y: t.a.y + ((t.b.y - t.a.y) * tenth) / 10 };
          return [line(m, t.b, 3), line(t.a, m, 3), t];
        });
        const other = makeSweeper(clip, allFine).sweep([...pieces.reverse(), ...all]);
        expect(area(other)).toBeCloseTo(area(one), 4);
      }),
      { numRuns: 40 },
    );
  });

  it('gives the very same patch for the same paths, so that equal depths cost once', () => {
    const sweeper = makeSweeper(clip, allFine);
    const a = sweeper.sweep([
      line({ x: 0, y: 0 }, { x: 50, y: 0 }, 3),
      line({ x: 300, y: 0 }, { x: 350, y: 0 }, 3),
    ]);
    const b = sweeper.sweep([line({ x: 50, y: 0 }, { x: 0, y: 0 }, 3)]);
    expect(a).toHaveLength(2);
    expect(a).toContain(b[0]);
  });

  it('follows arcs coarsely only where they make no wall', () => {
    const wall = { kind: 'line', from: { x: 0, y: -3 }, to: { x: 50, y: -3 } } as const;
    const fineness = fineNear([wall], 3);
    const curve = (y: number) => arc(25, y, 5, 0, 2 * Math.PI, 3) as Extract<Track, { kind: 'arc' }>;
    expect(fineness(curve(5), 3)).toBe(0.0003);
    expect(fineness(curve(-10), 3)).toBe(0.0003);
    expect(fineness(curve(30), 3)).toBe(0.01);
  });
});
