import type { Segment } from '@haunch/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { descent, tracer } from './tracer.js';

const speeds = { rpm: 18000, cut: 4000, ramp: 2000, air: 6000 };
const mm = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const arc = (x: number, y: number, radius: number, start: number, sweep: number): Segment => {
  const at = (a: number) => ({ x: x + radius * Math.cos(a), y: y + radius * Math.sin(a) });
  return { kind: 'arc', from: at(start), to: at(start + sweep), centre: { x, y }, radius, sweep };
};

// The NIST report on RS274/NGC (NISTIR 6556; figure from memory) lets an arc's two radii differ by 0.002 mm.
it('writes arcs whose two radii agree within 0.0002 mm, whatever their size', () => {
  fc.assert(
    fc.property(
      mm(0, 2440),
      mm(0, 1220),
      mm(0.5, 5000),
      mm(0, 6.28),
      mm(-6.28, 6.28),
      (x, y, radius, start, sweep) => {
        fc.pre(Math.abs(sweep) * radius > 0.01);
        const s = arc(x, y, radius, start, sweep);
        const t = tracer(s.from, 15, speeds);
        t.down(0);
        t.follow([s], -6);
        let at = t.moves[0]!.to;
        for (const m of t.moves) {
          if (m.kind === 'circular') {
            const [a, b] = [at, m.to].map((p) => Math.hypot(p.x - m.centre.x, p.y - m.centre.y));
            expect(Math.abs(a! - b!)).toBeLessThanOrEqual(0.0002);
            expect(Math.abs(a! - radius)).toBeLessThan(radius * 0.02 + 0.001);
          }
          at = m.to;
        }
        expect(Math.hypot(at.x - s.to.x, at.y - s.to.y)).toBeLessThan(0.0001);
      },
    ),
  );
});

it('goes down a ramp slowly and along the level at the cutting feed', () => {
  const t = tracer({ x: 0, y: 0 }, 15, speeds);
  const way: Segment[] = [{ kind: 'line', from: { x: 0, y: 0 }, to: { x: 70, y: 0 } }];
  t.down(0);
  t.follow(way, descent(way, 0, -6));
  t.follow([{ kind: 'line', from: { x: 70, y: 0 }, to: { x: 0, y: 0 } }], -6);
  expect(t.moves.map((m) => (m.kind === 'rapid' ? 'rapid' : m.feed))).toEqual([
    'rapid',
    6000,
    2000,
    2000,
    4000,
  ]);
  expect(t.at()).toEqual({ x: 0, y: 0, z: -6 });
});
