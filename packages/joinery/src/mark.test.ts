import type { Mark } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { all, copy, demo } from '../test/demo.js';
import { formatMaster, readMaster, refitMaster } from './index.js';
import { markAxis } from './mark.js';

const AXES = { X: [1, 0, 0], Y: [0, 1, 0], Z: [0, 0, 1] } as const;
/** Turns about Y and then about Z, chosen so that no axis stays one. */
const turned = ([x, y, z]: readonly number[]): [number, number, number] => {
  const [c, s, d, e] = [Math.cos(0.4), Math.sin(0.4), Math.cos(1.1), Math.sin(1.1)];
  const [a, b] = [c * x! + s * z!, -s * x! + c * z!];
  return [d * a - e * y!, e * a + d * y!, b];
};
const NAMED = {
  '+X': [1, 0, 0],
  '-X': [-1, 0, 0],
  '+Y': [0, 1, 0],
  '-Y': [0, -1, 0],
  '+Z': [0, 0, 1],
  '-Z': [0, 0, -1],
};
const direction = (a: keyof typeof NAMED | readonly number[]) => turned(typeof a === 'string' ? NAMED[a] : a);

/** The example with the whole piece turned in space: every frame is askew and every mark has a normal. */
function turnedDemo() {
  const m = copy(demo);
  m.marks = m.marks.map(({ axis, ...rest }) => ({ ...rest, normal: turned(AXES[axis!]) }));
  for (const p of m.parts) {
    p.frame.origin = turned(p.frame.origin);
    for (const k of ['u', 'v', 'n'] as const) p.frame[k] = direction(p.frame[k] as never);
  }
  for (const mate of m.mates) {
    mate.enteringMoves = direction(mate.enteringMoves as never);
    mate.locates = mate.locates.map((l) => direction(l as never));
    if (mate.stopsOn !== undefined) mate.stopsOn = direction(mate.stopsOn as never);
  }
  for (const s of m.assembly) s.move = direction(s.move as never);
  return m;
}

describe('marks with a normal', () => {
  it('refit a piece turned in space as its twin along the axes, in every number of its curves', () => {
    const turnedPiece = readMaster(formatMaster(turnedDemo()));
    if (!turnedPiece.ok) throw new Error(turnedPiece.diagnostics.map((d) => d.message).join('\n'));
    fc.assert(
      fc.property(fc.integer({ min: 1210, max: 2500 }), (n) => {
        const a = refitMaster(turnedPiece.value, { thicknesses: all(demo, n / 100) });
        const b = refitMaster(demo, { thicknesses: all(demo, n / 100) });
        if (!a.ok || !b.ok) throw new Error(a.diagnostics.map((d) => d.message).join('\n'));
        a.value.parts.forEach((p, i) => {
          const q = b.value.parts[i]!;
          const points = (x: typeof p) =>
            [x.outline, ...x.through.map((c) => c.loop), ...x.pockets.map((c) => c.loop)].flatMap((l) =>
              l.segments.flatMap((s) => [...s.to, ...(s.centre ?? [])]),
            );
          const mine = points(p);
          points(q).forEach((v, k) => {
            expect(Math.abs(v - mine[k]!)).toBeLessThanOrEqual(0.0002);
          });
          turned(q.frame.origin).forEach((v, k) => {
            expect(Math.abs(v - p.frame.origin[k]!)).toBeLessThanOrEqual(0.0002);
          });
        });
      }),
      { numRuns: 20 },
    );
  });

  it('are refused when the normal is no unit vector, or when there is an axis too, or neither', () => {
    const normal = (mark: object) => {
      const m = copy(demo);
      m.marks[0] = { id: m.marks[0]!.id, constant: 1060, terms: { ER: -1 }, ...mark } as never;
      return readMaster(formatMaster(m)).diagnostics.map((d) => d.code);
    };
    expect(normal({ normal: [1, 0, 0] })).toEqual([]);
    expect(normal({ normal: [2, 0, 0] })).toEqual(['master/direction']);
    expect(normal({ axis: 'X', normal: [1, 0, 0] })).toEqual(['master/value']);
    expect(normal({})).toEqual(['master/value']);
    expect(() => markAxis({ id: 'no-way', constant: 0, terms: {} } as Mark)).toThrow(RangeError);
  });
});
