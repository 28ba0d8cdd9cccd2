import { circleRing, type Point, ringArea, ringProblems, subtractRings, unionRings } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entity } from '../src/index.js';
import { codesOf, polyline, read, rectangle } from './parts-scene.js';

const circle = ({ x, y }: Point, radius: number, line: number, layer = 'A'): Entity => ({
  kind: 'circle',
  layer,
  handle: null,
  line,
  elevation: 0,
  depth: 0,
  centre: { x, y },
  radius,
});

/** How a circle is put into an inside corner; `into` points from the corner into the air, one unit along each axis. */
const FORMS = {
  'through the corner': (c: Point, into: Point, r: number) => ({
    x: c.x + (into.x * r) / Math.SQRT2,
    y: c.y + (into.y * r) / Math.SQRT2,
  }),
  'along a wall': (c: Point, into: Point, r: number) => ({ x: c.x, y: c.y + into.y * r }),
  'about the corner': (c: Point) => c,
} as const;
type Form = keyof typeof FORMS;
const forms = fc.constantFrom(...(Object.keys(FORMS) as Form[]));
const radii = fc.integer({ min: 10, max: 50 }).map((n) => n / 10);
/** The areas of thin slivers that corners on the grid make, mm². */
const GRID = 0.02;

describe('circles in inside corners', () => {
  it('are united with a slot, as the union of areas says', () =>
    fc.assert(
      fc.property(forms, radii, fc.integer({ min: 12, max: 30 }), (form, r, width) => {
        fc.pre(4 * r < width);
        const [x0, x1, y0, y1] = [40, 40 + width, 30, 90];
        const corners = [
          [x0, y0, 1, 1],
          [x1, y0, -1, 1],
          [x1, y1, -1, -1],
          [x0, y1, 1, -1],
        ].map(
          ([x, y, u, v]) =>
            [
              { x: x!, y: y! },
              { x: u!, y: v! },
            ] as const,
        );
        const places = corners.map(([c, into]) => FORMS[form](c, into, r));
        const found = read([
          rectangle(0, 0, 200, 120, 1, 'A'),
          rectangle(x0, y0, x1, y1, 10, 'A'),
          ...places.map((p, k) => circle(p, r, 20 + k)),
        ]);
        expect(codesOf(found)).toEqual(['relief-circles']);
        const [part] = found.parts;
        expect([found.parts.length, part!.through.length, part!.holes.length]).toEqual([1, 1, 0]);
        const { ring } = part!.through[0]!;
        expect(ringProblems(ring)).toEqual([]);
        const slot = { vertices: corners.map(([c]) => ({ ...c, bulge: 0 })) };
        const [whole] = unionRings([slot, ...places.map((p) => circleRing(p, r))]);
        expect(Math.abs(ringArea(ring) - ringArea(whole!.outer))).toBeLessThan(GRID);
      }),
    ));

  it('are taken from an outline in its notches, and never at its outer corners', () =>
    fc.assert(
      fc.property(forms, radii, (form, r) => {
        const at = [
          [0, 0],
          [200, 0],
          [200, 100],
          [124, 100],
          [124, 40],
          [100, 40],
          [100, 100],
          [0, 100],
        ] as const;
        const places = [
          FORMS[form]({ x: 124, y: 40 }, { x: -1, y: 1 }, r),
          FORMS[form]({ x: 100, y: 40 }, { x: 1, y: 1 }, r),
        ];
        const board = polyline(at, 1, 'A');
        const found = read([board, ...places.map((p, k) => circle(p, r, 20 + k))]);
        expect(codesOf(found)).toEqual(['relief-circles']);
        const { ring } = found.parts[0]!.outline;
        const outline = { vertices: at.map(([x, y]) => ({ x, y, bulge: 0 })) };
        const [left] = subtractRings(
          [outline],
          places.map((p) => circleRing(p, r)),
        );
        expect(Math.abs(ringArea(ring) - ringArea(left!.outer))).toBeLessThan(GRID);
        expect(ringProblems(ring)).toEqual([]);
        // At an outer corner a circle is no relief.
        expect(codesOf(read([board, circle({ x: 200, y: 0 }, r, 30)]))).toContain('crossing-curves');
      }),
    ));

  it('are left as drawn where that is asked for, and elsewhere', () => {
    const drawn = (x: number, y: number, r: number) => [
      rectangle(0, 0, 200, 120, 1, 'A'),
      rectangle(40, 30, 60, 90, 10, 'A'),
      circle({ x, y }, r, 20),
    ];
    expect(codesOf(read(drawn(40, 30, 3)))).toEqual(['relief-circles']);
    expect(codesOf(read(drawn(40, 30, 3), { keep: ['relief'] }))).toEqual(['crossing-curves']);
    // On a wall, on a whole end, and too wide for a cutter.
    expect(codesOf(read(drawn(40, 60, 3)))).toEqual(['crossing-curves']);
    expect(codesOf(read(drawn(40, 30, 8)))).toEqual(['crossing-curves']);
    // A hole beside the corner is a hole.
    const hole = read(drawn(30, 20, 3));
    expect([codesOf(hole), hole.parts[0]!.holes.length]).toEqual([[], 1]);
  });
});
