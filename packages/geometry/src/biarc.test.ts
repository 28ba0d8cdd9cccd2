import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyPoint, gridNumber } from '../test/arbitraries.js';
import { biarc } from './biarc.js';
import { distance, type Point } from './point.js';
import { endDirection, segmentLength, startDirection } from './segment-course.js';

const towards = (angle: number): Point => ({ x: Math.cos(angle), y: Math.sin(angle) });
const sine = (a: Point, b: Point): number =>
  Math.hypot(
    a.x / Math.hypot(a.x, a.y) - b.x / Math.hypot(b.x, b.y),
    a.y / Math.hypot(a.x, a.y) - b.y / Math.hypot(b.x, b.y),
  );

describe('biarc', () => {
  it('leaves, joins and arrives in the given directions, with chords of one length', () => {
    fc.assert(
      fc.property(
        anyPoint(),
        anyPoint(),
        gridNumber(-3, 3),
        gridNumber(-3, 3),
        gridNumber(0.1, 9),
        (p0, p1, a, b, length) => {
          fc.pre(distance(p0, p1) > 0.01);
          const t0 = towards(a);
          const t1 = { x: towards(b).x * length, y: towards(b).y * length };
          const chord = towards(Math.atan2(p1.y - p0.y, p1.x - p0.x));
          fc.pre(t0.x * chord.x + t0.y * chord.y > -0.99);
          const arcs = biarc(p0, t0, p1, t1);
          const last = arcs[arcs.length - 1]!;
          expect([arcs[0].from, last.to]).toEqual([p0, p1]);
          expect(sine(startDirection(arcs[0]), t0)).toBeLessThan(1e-8);
          expect(sine(endDirection(last), t1)).toBeLessThan(1e-8);
          const [first, second] = arcs;
          if (!second) return;
          expect(first.to).toEqual(second.from);
          expect(sine(endDirection(first), startDirection(second))).toBeLessThan(1e-8);
          const chords = arcs.map((s) => distance(s.from, s.to));
          expect(Math.abs(chords[0]! - chords[1]!)).toBeLessThan(1e-9 * chords[0]!);
        },
      ),
      { numRuns: 1000, seed: 11 },
    );
  });

  it('is turned, moved and scaled with its ends, and runs back along itself', () => {
    fc.assert(
      fc.property(
        gridNumber(-2, 2),
        gridNumber(-2, 2),
        gridNumber(-3, 3),
        gridNumber(0.1, 50),
        (a, b, turn, size) => {
          const plain = biarc({ x: 0, y: 0 }, towards(a), { x: 1, y: 0 }, towards(b));
          const end = { x: 3 + size * Math.cos(turn), y: 4 + size * Math.sin(turn) };
          const moved = biarc({ x: 3, y: 4 }, towards(a + turn), end, towards(b + turn));
          const back = biarc({ x: 1, y: 0 }, towards(b + Math.PI), { x: 0, y: 0 }, towards(a + Math.PI));
          const lengthOf = (s: ReturnType<typeof biarc>) => s.reduce((sum, q) => sum + segmentLength(q), 0);
          expect(lengthOf(moved) / size / lengthOf(plain)).toBeCloseTo(1, 6);
          // A direction straight back along the chord has no side, so that its pair may turn either way.
          if (Math.abs(a) < 1.5 && Math.abs(b) < 1.5) expect(lengthOf(back)).toBeCloseTo(lengthOf(plain), 6);
        },
      ),
      { numRuns: 500, seed: 12 },
    );
  });

  it('is one line along its chord, one arc where one does it, and an S of half circles for square ends', () => {
    const [o, e] = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
    ];
    expect(biarc(o, { x: 2, y: 0 }, e, { x: 1, y: 0 })).toEqual([{ kind: 'line', from: o, to: e }]);
    const quarter = biarc(o, { x: 1, y: 0 }, { x: 10, y: 10 }, { x: 0, y: 1 });
    expect(quarter).toHaveLength(1);
    expect(quarter[0]).toMatchObject({ kind: 'arc' });
    if (quarter[0].kind === 'arc') {
      expect(quarter[0].radius).toBeCloseTo(10, 12);
      expect(quarter[0].sweep).toBeCloseTo(Math.PI / 2, 12);
      expect(distance(quarter[0].centre, { x: 0, y: 10 })).toBeLessThan(1e-12);
    }
    const s = biarc(o, { x: 0, y: 1 }, e, { x: 0, y: 1 });
    expect(s.map((q) => q.kind === 'arc' && [q.radius, q.sweep])).toEqual([
      [2.5, expect.closeTo(-Math.PI, 9)],
      [2.5, expect.closeTo(Math.PI, 9)],
    ]);
  });

  it('refuses ends in one place, no direction, and both directions straight back', () => {
    const [o, e, x] = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 1, y: 0 },
    ];
    expect(() => biarc(o, x, o, x)).toThrow(RangeError);
    expect(() => biarc(o, { x: 0, y: 0 }, e, x)).toThrow(RangeError);
    expect(() => biarc(o, x, { x: Number.NaN, y: 0 }, x)).toThrow(RangeError);
    expect(() => biarc(o, { x: -1, y: 0 }, e, { x: -1, y: 0 })).toThrow(RangeError);
  });
});
