import fc from 'fast-check';
import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { mapPoint } from './affine.js';
import { readTransformList } from './transform-list.js';

/** Where svgpath takes a point. */
function theirs(text: string, x: number, y: number): [number, number] {
  let last: [number, number] = [0, 0];
  svgpath(`M0 0L${x} ${y}`)
    .transform(text)
    .iterate((s) => {
      if (s[0] === 'L') last = [s[1], s[2]];
    });
  return last;
}

describe('transform lists (SVG 1.1, 7.6)', () => {
  it('maps points as a second implementation does', () => {
    const n = fc.integer({ min: -40, max: 40 }).map((v) => v / 8);
    const angle = fc.integer({ min: -80, max: 80 });
    const one = fc.oneof(
      fc.tuple(n, n, n, n, n, n).map((v) => `matrix(${v.join(' ')})`),
      fc.tuple(n, n).map((v) => `translate(${v.join(',')})`),
      n.map((v) => `translate(${v})`),
      fc.tuple(n, n).map((v) => `scale(${v.join(' , ')})`),
      n.map((v) => `scale( ${v} )`),
      angle.map((v) => `rotate(${v})`),
      fc.tuple(angle, n, n).map((v) => `rotate(${v.join(' ')})`),
      angle.map((v) => `skewX(${v})`),
      angle.map((v) => `skewY(${v})`),
    );
    fc.assert(
      fc.property(fc.array(one, { minLength: 1, maxLength: 5 }), n, n, (list, x, y) => {
        const text = list.join(' ');
        const p = mapPoint(readTransformList(text)!, { x, y });
        const [px, py] = theirs(text, x, y);
        const size = 1 + Math.abs(px) + Math.abs(py);
        expect(Math.abs(p.x - px) / size).toBeLessThan(1e-9);
        expect(Math.abs(p.y - py) / size).toBeLessThan(1e-9);
      }),
    );
  });

  it('keeps axis-parallel lines exactly so under quarter turns', () => {
    expect(readTransformList('rotate(90)')).toEqual({ a: 0, b: 1, c: -1, d: 0, e: 0, f: 0 });
  });

  it.each([
    'turn(3)',
    'rotate(1 2)',
    'matrix(1 2 3)',
    'scale(a)',
    'translate(1',
    'translate(1e999)',
    'scale()',
    'rotate(9) x',
  ])('refuses %s', (text) => {
    expect(readTransformList(text)).toBeNull();
  });
});
