import { type GridBox, isForbidden, type NoFit } from './no-fit.js';

/** Something already on the bed: where the reference point of the shape in hand may not be, and from which origin. */
export interface Obstacle {
  readonly noFit: NoFit;
  readonly x: number;
  readonly y: number;
}

/** Which place is best: least x and then least y, and so on; `down` and `back` turn the second choice round. */
export interface CornerPreference {
  readonly name: string;
  readonly first: 'x' | 'y';
  readonly second: 1 | -1;
}

/** The corners from which beds are filled. */
export const CORNER_PREFERENCES: readonly CornerPreference[] = [
  { name: 'left, then bottom', first: 'x', second: 1 },
  { name: 'bottom, then left', first: 'y', second: 1 },
  { name: 'left, then top', first: 'x', second: -1 },
  { name: 'bottom, then right', first: 'y', second: -1 },
];

/** Rows of the work space: x, y, x, y of an edge and the number of its obstacle. */
const ROW = 5;
let edges = new Float64Array(ROW * 1024);

/**
 * The best free place for a reference point within `room`, on the grid, or none. The best place of a closed
 * free region is a corner of `room`, a corner of a no-fit polygon, or a crossing of their edges, so these are
 * tried (Burke, Hellier, Kendall & Whitwell, "A new bottom-left-fill heuristic algorithm for the
 * two-dimensional irregular packing problem", Operations Research 54, 2006, tries the same points). A crossing
 * off the grid is tried at the four grid points round it. What is answered is free exactly.
 */
export function findPlace(
  room: GridBox,
  obstacles: readonly Obstacle[],
  preference: CornerPreference,
): readonly [number, number] | undefined {
  const [x0, y0, x1, y1] = room;
  if (x0 > x1 || y0 > y1) return undefined;
  const byX = preference.first === 'x';
  const way = preference.second;
  let bestU = Infinity;
  let bestV = Infinity;

  const tryGrid = (x: number, y: number): void => {
    const u = byX ? x : y;
    const v = (byX ? y : x) * way;
    if (u > bestU || (u === bestU && v >= bestV)) return;
    if (x < x0 || x > x1 || y < y0 || y > y1) return;
    for (let k = 0; k < obstacles.length; k++) {
      const o = obstacles[k]!;
      if (isForbidden(o.noFit, x - o.x, y - o.y)) return;
    }
    bestU = u;
    bestV = v;
  };
  const tryAt = (x: number, y: number): void => {
    const fx = Math.floor(x);
    const fy = Math.floor(y);
    tryGrid(fx, fy);
    if (fx !== x) tryGrid(fx + 1, fy);
    if (fy !== y) {
      tryGrid(fx, fy + 1);
      if (fx !== x) tryGrid(fx + 1, fy + 1);
    }
  };

  tryGrid(x0, y0);
  tryGrid(x1, y0);
  tryGrid(x0, y1);
  tryGrid(x1, y1);
  let rows = 0;
  for (let k = 0; k < obstacles.length; k++) {
    const { noFit, x, y } = obstacles[k]!;
    const b = noFit.box;
    if (b[0] + x > x1 || b[1] + y > y1 || b[2] + x < x0 || b[3] + y < y0) continue;
    const e = noFit.edges;
    for (let i = 0; i < e.length; i += 4) {
      const ax = e[i]! + x;
      const ay = e[i + 1]! + y;
      const bx = e[i + 2]! + x;
      const by = e[i + 3]! + y;
      if ((ax < x0 && bx < x0) || (ax > x1 && bx > x1) || (ay < y0 && by < y0) || (ay > y1 && by > y1))
        continue;
      tryAt(ax, ay);
      tryAt(bx, by);
      if (ax < x0 !== bx < x0) tryAt(x0, ay + ((x0 - ax) / (bx - ax)) * (by - ay));
      if (ax > x1 !== bx > x1) tryAt(x1, ay + ((x1 - ax) / (bx - ax)) * (by - ay));
      if (ay < y0 !== by < y0) tryAt(ax + ((y0 - ay) / (by - ay)) * (bx - ax), y0);
      if (ay > y1 !== by > y1) tryAt(ax + ((y1 - ay) / (by - ay)) * (bx - ax), y1);
      if (rows * ROW + ROW > edges.length) {
        const more = new Float64Array(edges.length * 2);
        more.set(edges);
        edges = more;
      }
      const at = rows++ * ROW;
      edges[at] = ax;
      edges[at + 1] = ay;
      edges[at + 2] = bx;
      edges[at + 3] = by;
      edges[at + 4] = k;
    }
  }
  // Edges wholly beyond the best place so far can cross nothing better.
  let kept = 0;
  for (let i = 0; i < rows; i++) {
    const p = i * ROW + (byX ? 0 : 1);
    if (edges[p]! > bestU && edges[p + 2]! > bestU) continue;
    if (kept < i) edges.copyWithin(kept * ROW, i * ROW, i * ROW + ROW);
    kept++;
  }
  rows = kept;
  for (let i = 0; i < rows; i++) {
    const p = i * ROW;
    const ax = edges[p]!;
    const ay = edges[p + 1]!;
    const bx = edges[p + 2]!;
    const by = edges[p + 3]!;
    const loX = Math.min(ax, bx);
    const hiX = Math.max(ax, bx);
    const loY = Math.min(ay, by);
    const hiY = Math.max(ay, by);
    if ((byX ? loX : loY) > bestU) continue;
    for (let j = i + 1; j < rows; j++) {
      const q = j * ROW;
      const cx = edges[q]!;
      const dx = edges[q + 2]!;
      if ((cx > hiX && dx > hiX) || (cx < loX && dx < loX)) continue;
      const cy = edges[q + 1]!;
      const dy = edges[q + 3]!;
      if ((cy > hiY && dy > hiY) || (cy < loY && dy < loY) || edges[q + 4] === edges[p + 4]) continue;
      const ux = bx - ax;
      const uy = by - ay;
      const wx = dx - cx;
      const wy = dy - cy;
      const d = ux * wy - uy * wx;
      if (d === 0) continue;
      const t = ((cx - ax) * wy - (cy - ay) * wx) / d;
      const s = ((cx - ax) * uy - (cy - ay) * ux) / d;
      if (t < 0 || t > 1 || s < 0 || s > 1) continue;
      // On an axis-parallel edge the crossing keeps that edge's coordinate exactly.
      tryAt(ux === 0 ? ax : wx === 0 ? cx : ax + t * ux, uy === 0 ? ay : wy === 0 ? cy : ay + t * uy);
    }
  }
  if (bestU === Infinity) return undefined;
  return byX ? [bestU, bestV * way + 0] : [bestV * way + 0, bestU];
}
