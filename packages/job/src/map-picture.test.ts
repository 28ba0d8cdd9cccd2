import { fitThicknessMap } from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import type { Board } from '@haunch/model';
import { expect, it } from 'vitest';
import { mapPicture } from './map-picture.js';

/** A letter's mean width as a share of its size: of sans serif faces, with some to spare. Common practice, no source. */
const LETTER = 0.55;

it('keeps every line of its caption within the picture, on boards of any shape', () => {
  for (const [w, h] of [
    [2440, 1220],
    [300, 900],
  ] as const) {
    const board = { id: 'b', outline: rectangleRing(0, 0, w, h), thickness: 17.7, readings: [] };
    const svg = mapPicture(board as unknown as Board);
    const size = Number(/\.tm-u\{font-size:([\d.]+)px/.exec(svg)![1]);
    const lines = [...svg.matchAll(/text-anchor="start" class="tm-u">([^<]+)</g)].map((m) => m[1]!);
    expect(lines.join(' ')).toContain('Y up');
    for (const line of lines) expect(line.length * LETTER * size, line).toBeLessThan(w);
  }
});

it('lets no ring and no cross stand on a figure, on a small board either', () => {
  const outline = rectangleRing(0, 0, 1200, 300);
  const readings = [
    { thickness: 17.7, at: { x: 220, y: 160 } },
    { thickness: 17.6, at: { x: 900, y: 40 } },
    { thickness: 17.8, at: { x: 600, y: 280 } },
  ];
  const map = fitThicknessMap(readings, outline);
  if (!map.ok) throw new Error('no map');
  const board = { id: 'b', outline, thickness: 17.7, readings, map: map.value };
  const svg = mapPicture(board as unknown as Board);
  const size = Number(/font-size="([\d.]+)"/.exec(svg)![1]);
  const figures = [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)">(\d+\.\d+)</g)];
  expect(figures.length).toBeGreaterThan(6);
  const rings = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/g)].map((m) =>
    m.slice(1).map(Number),
  );
  const crosses = readings.map(({ at }) => [at.x, 300 - at.y, 0]);
  expect(rings).toHaveLength(3);
  for (const [, x, y, word] of figures)
    for (const [cx, cy, r] of [...rings, ...crosses] as [number, number, number][]) {
      const half = (LETTER * size * word!.length) / 2;
      const away =
        Math.abs(cx - Number(x)) >= half + r || cy + r <= Number(y) - size || cy - r >= Number(y) + size;
      expect(away, `${word} at ${x}, ${y}`).toBe(true);
    }
});
