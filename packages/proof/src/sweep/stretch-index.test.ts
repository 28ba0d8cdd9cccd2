import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lowest, type Stretch } from './stretch.js';
import { stretchIndex } from './stretch-index.js';

const coordinate = fc.double({ min: -50, max: 50, noNaN: true });
const stretch = fc
  .record({
    from: fc.record({ x: coordinate, y: coordinate, z: coordinate }),
    to: fc.record({ x: coordinate, y: coordinate, z: coordinate }),
    centre: fc.option(fc.record({ x: coordinate, y: coordinate })),
    radius: fc.constantFrom(0, 3, 6),
  })
  .map(
    (s): Omit<Stretch, 'index' | 'line'> => ({
      ...s,
      kind: s.centre === null ? 'linear' : 'arc',
      sweep: s.centre === null ? 0 : 1,
      feed: 1,
      spindle: 1,
      tool: 1,
      drill: false,
      point: 0,
    }),
  );

it('visits every stretch that reaches a box, in order, and few that do not', () =>
  fc.assert(
    fc.property(
      fc.array(stretch, { maxLength: 200 }),
      coordinate,
      coordinate,
      coordinate,
      (some, x, y, height) => {
        const stretches = some.map((s, index): Stretch => ({ ...s, index, line: index + 1 }));
        const box = { minX: x, minY: y, maxX: x + 4, maxY: y + 4 };
        const visited: number[] = [];
        stretchIndex(stretches).search(box, height, (s) => {
          visited.push(s.index);
          return false;
        });
        expect(visited).toEqual([...new Set(visited)].sort((a, b) => a - b));
        for (const s of stretches) {
          const c = s.centre;
          // Places on the way itself, without any box.
          const places = Array.from({ length: 21 }, (_, k) => {
            const t = k / 20;
            if (c === null)
              return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
            const a = Math.atan2(s.from.y - c.y, s.from.x - c.x) + t;
            const r = Math.hypot(s.from.x - c.x, s.from.y - c.y);
            return { x: c.x + r * Math.cos(a), y: c.y + r * Math.sin(a) };
          });
          const touches = places.some((p) => {
            const dx = Math.max(box.minX - p.x, 0, p.x - box.maxX);
            const dy = Math.max(box.minY - p.y, 0, p.y - box.maxY);
            return Math.hypot(dx, dy) <= s.radius;
          });
          if (touches && lowest(s) <= height) expect(visited).toContain(s.index);
        }
      },
    ),
  ));

it('stops where the visitor has found what it wants, and skips what lies elsewhere or above', () => {
  const at = (index: number): Stretch => ({
    index,
    line: index + 1,
    kind: 'linear',
    from: { x: index * 10, y: 0, z: index % 2 === 0 ? -1 : 5 },
    to: { x: index * 10 + 5, y: 0, z: index % 2 === 0 ? -1 : 5 },
    centre: null,
    sweep: 0,
    feed: 1,
    spindle: 1,
    tool: 1,
    radius: 1,
    drill: false,
    point: 0,
  });
  const stretches = Array.from({ length: 1000 }, (_, i) => at(i));
  const seen: number[] = [];
  stretchIndex(stretches).search({ minX: 5000, maxX: 9000, minY: -1, maxY: 1 }, 0, (s) => {
    seen.push(s.index);
    return s.index >= 502;
  });
  expect(seen.at(-1)).toBe(502);
  expect(seen.length).toBeLessThan(16);
  const none: number[] = [];
  stretchIndex(stretches).search(
    { minX: 0, maxX: 9000, minY: -1, maxY: 1 },
    -2,
    (s) => none.push(s.index) > 0,
  );
  expect(none).toEqual([]);
  stretchIndex([]).search({ minX: 0, maxX: 9, minY: 0, maxY: 9 }, 0, () => {
    throw new Error('nothing is there');
  });
});
