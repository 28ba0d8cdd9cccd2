import type { GridBox } from '../no-fit.js';
import type { GridPolygon } from '../outer-polygon.js';

/** How often a quarter turn counter-clockwise is taken. */
export type Quarter = 0 | 1 | 2 | 3;

/** Any whole number of quarter turns as one of the four. */
export const quarter = (k: number): Quarter => (((k % 4) + 4) % 4) as Quarter;

/** A point turned about the origin: exact. */
export function turnedPoint(x: number, y: number, q: Quarter): readonly [number, number] {
  if (q === 0) return [x, y];
  if (q === 1) return [-y + 0, x];
  if (q === 2) return [-x + 0, -y + 0];
  return [y, -x + 0];
}

/** A polygon turned about the origin and then moved: exact. */
export function turnedPolygon(p: GridPolygon, q: Quarter, dx = 0, dy = 0): GridPolygon {
  const out: number[] = [];
  for (let i = 0; i < p.length; i += 2) {
    const [x, y] = turnedPoint(p[i]!, p[i + 1]!, q);
    out.push(x + dx, y + dy);
  }
  return out;
}

/** A box turned about the origin: exact. */
export function turnedBox([x0, y0, x1, y1]: GridBox, q: Quarter): GridBox {
  const [ax, ay] = turnedPoint(x0, y0, q);
  const [bx, by] = turnedPoint(x1, y1, q);
  return [Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by)];
}
