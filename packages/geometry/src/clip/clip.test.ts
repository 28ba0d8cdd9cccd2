import { describe, expect, it } from 'vitest';
import type { Point } from '../point.js';
import { rectangleRing } from '../ring.js';
import type { Polygon } from './clip.js';
import { loadClip } from './load-clip.js';

const area = (polygons: readonly Polygon[]): number =>
  polygons.reduce(
    (sum, p) =>
      sum +
      p.reduce((s, a, i) => s + (a.x * p[(i + 1) % p.length]!.y - p[(i + 1) % p.length]!.x * a.y) / 2, 0),
    0,
  );
const box = (...xy: [number, number, number, number]): Point[] =>
  rectangleRing(...xy).vertices.map(({ x, y }) => ({ x, y }));

describe('loadClip', () => {
  it('unites, takes away and intersects two squares that overlap in 5 × 5', async () => {
    const clip = await loadClip();
    const [a, b] = [[box(0, 0, 10, 10)], [box(5, 5, 15, 15)]];
    expect(area(clip.union([...a, ...b]))).toBeCloseTo(175, 6);
    expect(area(clip.difference(a, b))).toBeCloseTo(75, 6);
    expect(area(clip.intersection(a, b))).toBeCloseTo(25, 6);
    expect(clip.intersection(a, [box(20, 20, 30, 30)])).toEqual([]);
  });

  it('grows a square by a disc, and sweeps a stroke into a stadium, both within the chords', async () => {
    const clip = await loadClip();
    const grown = area(clip.grow([box(0, 0, 100, 50)], 3.175, 0.001));
    // Reference value G3: A + P d + π d²; the corners are inscribed, hence less.
    expect(grown).toBeLessThan(5984.169217);
    expect(grown).toBeGreaterThan(5984.169217 - 2 * Math.PI * 3.175 * 0.001);
    const swept = area(
      clip.sweep(
        [
          [
            { x: 0, y: 0 },
            { x: 20, y: 0 },
          ],
        ],
        3,
        0.001,
      ),
    );
    expect(swept).toBeCloseTo(120 + 9 * Math.PI, 1);
    expect(area(clip.grow([box(0, 0, 10, 10)], -2, 0.001))).toBeCloseTo(36, 6);
  });

  it('refuses corners that are not finite and goes on working after it', async () => {
    const clip = await loadClip();
    expect(() =>
      clip.union([
        [
          { x: Number.NaN, y: 0 },
          { x: 1, y: 0 },
          { x: 0, y: 1 },
        ],
      ]),
    ).toThrow(RangeError);
    expect(area(clip.union([box(0, 0, 1, 1)]))).toBeCloseTo(1, 9);
  });
});
