import { describe, expect, it } from 'vitest';
import { offsetRing } from './offset-ring.js';
import { polygonRing, rectangleRing, ring, sweepAround, type Vertex } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';

describe('offsetRing against published values', () => {
  it('gives the tool path that NISTIR 6556 prints round its example part (tables 12 and 13)', () => {
    // Reference value N21: the part's edge from the arcs and lines of table 12, tool diameter 1.
    const arc = (
      from: readonly [number, number],
      to: readonly [number, number],
      centre: readonly [number, number],
      turn: 'cw' | 'ccw',
    ): Vertex => {
      const p = ([x, y]: readonly [number, number]) => ({ x, y });
      return { ...p(from), bulge: Math.tan(sweepAround(p(centre), p(from), p(to), turn) / 4) };
    };
    const part = ring([
      arc([2, 3], [3, 2], [2, 2], 'cw'),
      { x: 3, y: 2, bulge: 0 },
      arc([3, -1], [2, -2], [2, -1], 'cw'),
      { x: 2, y: -2, bulge: 0 },
      arc([-2, -2], [-2.6, -0.2], [-2, -1], 'cw'),
      { x: -2.6, y: -0.2, bulge: 0 },
      arc([1.4, 2.8], [2, 3], [2, 2], 'cw'),
    ]);
    expect(Math.abs(ringArea(part))).toBeCloseTo(21.141593, 6);
    expect(ringPerimeter(part)).toBeCloseTo(18.283185, 6);
    const [path] = offsetRing(part, { by: 0.5 });
    expect(ringArea(path!)).toBeCloseTo(31.068583, 6);
    expect(ringPerimeter(path!)).toBeCloseTo(21.424778, 6);
    // The printed corners of table 13.
    for (const [x, y] of [
      [2, 3.5],
      [3.5, 2],
      [3.5, -1],
      [2, -2.5],
      [-2, -2.5],
      [-2.9, 0.2],
      [1.1, 3.2],
    ] as const)
      expect(Math.min(...path!.vertices.map((v) => Math.hypot(v.x - x, v.y - y)))).toBeLessThan(1e-9);
  });

  it('has the areas and lengths of reference value G3', () => {
    const [plate] = offsetRing(rectangleRing(0, 0, 100, 50), { by: 3.175 });
    expect(ringArea(plate!)).toBeCloseTo(5984.169217, 6);
    expect(ringPerimeter(plate!)).toBeCloseTo(319.949113, 6);
    const triangle = polygonRing([
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 0, y: 3 },
    ]);
    expect(ringArea(offsetRing(triangle, { by: -0.5 })[0]!)).toBeCloseTo(1.5, 12);
    const l = polygonRing([
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 50 },
      { x: 50, y: 50 },
      { x: 50, y: 100 },
      { x: 0, y: 100 },
    ]);
    const [grown] = offsetRing(l, { by: 6 });
    expect(ringArea(grown!)).toBeCloseTo(10005.371669, 6);
    expect(ringPerimeter(grown!)).toBeCloseTo(435.12389, 6);
  });
});
