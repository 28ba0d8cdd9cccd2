import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Stretch } from './stretch.js';
import { sweptOnLine, type Track, trackBelow, trackDistance } from './track.js';

const base: Stretch = {
  index: 0,
  line: 1,
  kind: 'linear',
  from: { x: 0, y: 0, z: 0 },
  to: { x: 10, y: 0, z: 0 },
  centre: null,
  sweep: 0,
  feed: 1,
  spindle: 1,
  tool: 1,
  radius: 3,
  drill: false,
  point: 0,
};
const coordinate = fc.integer({ min: -20, max: 20 });
const anyTrack: fc.Arbitrary<Track> = fc.oneof(
  fc
    .tuple(coordinate, coordinate, coordinate, coordinate)
    .map(([a, b, c, d]) => trackBelow({ ...base, from: { x: a, y: b, z: 0 }, to: { x: c, y: d, z: 0 } }, 0)!),
  fc
    .tuple(
      coordinate,
      coordinate,
      fc.constantFrom(0.2, 2, 3, 5, 12),
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.constantFrom(-6, -2, -0.5, 0.4, 1.6, 3.1, 2 * Math.PI),
    )
    .map(([x, y, r, start, sweep]) => {
      const at = (a: number) => ({ x: x + r * Math.cos(a), y: y + r * Math.sin(a), z: 0 });
      return trackBelow(
        { ...base, kind: 'arc', from: at(start), to: at(start + sweep), centre: { x, y }, sweep },
        0,
      )!;
    }),
);

describe('a track', () => {
  it('is swept on a line just where its axis is no farther than the radius', () => {
    fc.assert(
      fc.property(
        anyTrack,
        coordinate,
        coordinate,
        fc.double({ min: -3, max: 3, noNaN: true }),
        (t, x, y, angle) => {
          const n = { x: Math.cos(angle), y: Math.sin(angle) };
          const spans = sweptOnLine(t, { x, y }, n);
          for (let tau = -30; tau <= 30; tau += 0.73) {
            const gap = trackDistance(t, x + tau * n.x, y + tau * n.y) - t.radius;
            if (Math.abs(gap) < 1e-6) continue;
            expect(spans.some(([a, b]) => a <= tau && tau <= b)).toBe(gap < 0);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it('takes of a ramp only what lies below a height', () => {
    const ramp = { ...base, from: { x: 0, y: 0, z: 10 }, to: { x: 10, y: 0, z: 0 } };
    expect(trackBelow(ramp, 4)).toMatchObject({ a: { x: 6, y: 0 }, b: { x: 10, y: 0 } });
    expect(trackBelow({ ...ramp, from: ramp.to, to: ramp.from }, 4)).toMatchObject({
      a: { x: 10 },
      b: { x: 6 },
    });
    expect(trackBelow(ramp, -1)).toBeNull();
  });

  it('takes of a helix the turn below a height', () => {
    const helix = trackBelow(
      {
        ...base,
        kind: 'arc',
        from: { x: 5, y: 0, z: 2 },
        to: { x: 5, y: 0, z: 0 },
        centre: { x: 0, y: 0 },
        sweep: 2 * Math.PI,
      },
      1,
    );
    expect(helix).toMatchObject({ kind: 'arc', sweep: Math.PI });
    expect(helix!.a.x).toBeCloseTo(-5, 9);
  });
});
