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
