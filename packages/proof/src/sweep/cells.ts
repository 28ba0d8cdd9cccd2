import type { Point } from '@haunch/geometry';

/** A way of a cutter's axis in the plane: straight, or round a centre from direction `start` over `sweep`. mm, radians */
type Way =
  | { readonly kind: 'line'; readonly a: Point; readonly b: Point }
  | {
      readonly kind: 'arc';
      readonly a: Point;
      readonly b: Point;
      readonly centre: Point;
      readonly r: number;
      readonly start: number;
      readonly sweep: number;
    };

/** Pieces of a track no longer than `step`, as boxes of the axis. */
function* boxesOf(t: Way, step: number): Generator<readonly [number, number, number, number]> {
  const length = t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : Math.abs(t.sweep) * t.r;
  const n = Math.max(1, Math.ceil(length / step));
  let [px, py] = [t.a.x, t.a.y];
  for (let i = 1; i <= n; i++) {
    let x: number;
    let y: number;
    let bow = 0;
    if (t.kind === 'line') {
      x = t.a.x + ((t.b.x - t.a.x) * i) / n;
      y = t.a.y + ((t.b.y - t.a.y) * i) / n;
    } else {
      const a = t.start + (t.sweep * i) / n;
      x = t.centre.x + t.r * Math.cos(a);
      y = t.centre.y + t.r * Math.sin(a);
      bow = t.r * (1 - Math.cos(Math.min(Math.PI, Math.abs(t.sweep) / n) / 2));
    }
    yield [Math.min(px, x) - bow, Math.min(py, y) - bow, Math.max(px, x) + bow, Math.max(py, y) + bow];
    [px, py] = [x, y];
  }
}

/** The cells (as numbers) that boxes grown by `by` touch. */
export function cellsOf(t: Way, by: number, cell: number): Set<number> {
  const out = new Set<number>();
  for (const [x0, y0, x1, y1] of boxesOf(t, cell)) {
    for (let i = Math.floor((x0 - by) / cell); i <= Math.floor((x1 + by) / cell); i++)
      for (let j = Math.floor((y0 - by) / cell); j <= Math.floor((y1 + by) / cell); j++)
        out.add(cellKey(i, j));
  }
  return out;
}

/** A number for a cell, its own within 4,000 km for cells of 8 mm. */
export const cellKey = (i: number, j: number): number => (i + 500_000) * 1_000_003 + (j + 500_000);
