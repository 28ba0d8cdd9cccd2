import { type GridBox, isForbidden, type NoFit } from './no-fit.js';

/** Something already on the bed: where the reference point of the shape in hand may not be, and from which origin. */
export interface Obstacle {
  readonly noFit: NoFit;
  readonly x: number;
  readonly y: number;
}

/** Which place is best: least along `first`, then least along the other axis, or greatest where `second` is −1. */
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

/** A search under way: what is free, what is wanted, and the best place so far (first and second choice). */
interface Search {
  readonly room: GridBox;
  readonly obstacles: readonly Obstacle[];
  readonly byX: boolean;
  readonly way: 1 | -1;
  first: number;
  second: number;
}

/** Rows of the work space: x, y, x, y of an edge and the number of its obstacle. */
const ROW = 5;
let edges = new Float64Array(ROW * 1024);

function tryGrid(s: Search, x: number, y: number): void {
  const first = s.byX ? x : y;
  const second = (s.byX ? y : x) * s.way;
  if (first > s.first || (first === s.first && second >= s.second)) return;
  if (x < s.room[0] || x > s.room[2] || y < s.room[1] || y > s.room[3]) return;
  for (let k = 0; k < s.obstacles.length; k++) {
    const o = s.obstacles[k]!;
    if (isForbidden(o.noFit, x - o.x, y - o.y)) return;
  }
  s.first = first;
  s.second = second;
}

/** Tries a point, or the grid points round it where it is off the grid. */
function tryAt(s: Search, x: number, y: number): void {
  const fx = Math.floor(x);
  const fy = Math.floor(y);
  tryGrid(s, fx, fy);
  if (fx !== x) tryGrid(s, fx + 1, fy);
  if (fy !== y) {
    tryGrid(s, fx, fy + 1);
    if (fx !== x) tryGrid(s, fx + 1, fy + 1);
  }
}

/** Tries the ends of all edges and where they cross the room's sides; leaves the edges in the work space. */
function tryEdges(s: Search): number {
  const [x0, y0, x1, y1] = s.room;
  let rows = 0;
  for (let k = 0; k < s.obstacles.length; k++) {
    const { noFit, x, y } = s.obstacles[k]!;
    const b = noFit.box;
    if (b[0] + x > x1 || b[1] + y > y1 || b[2] + x < x0 || b[3] + y < y0) continue;
    const e = noFit.edges;
    for (let i = 0; i < e.length; i += 4) {
      const ax = e[i]! + x;
      const ay = e[i + 1]! + y;
      const bx = e[i + 2]! + x;
      const by = e[i + 3]! + y;
      if ((ax < x0 && bx < x0) || (ax > x1 && bx > x1)) continue;
      if ((ay < y0 && by < y0) || (ay > y1 && by > y1)) continue;
      tryAt(s, ax, ay);
      tryAt(s, bx, by);
      for (const side of [x0, x1])
        if (ax < side !== bx < side) tryAt(s, side, ay + ((side - ax) / (bx - ax)) * (by - ay));
      for (const side of [y0, y1])
        if (ay < side !== by < side) tryAt(s, ax + ((side - ay) / (by - ay)) * (bx - ax), side);
      if (rows * ROW + ROW > edges.length) {
        const more = new Float64Array(edges.length * 2);
        more.set(edges);
        edges = more;
      }
      edges.set([ax, ay, bx, by, k], rows++ * ROW);
    }
  }
  return rows;
}

/** Drops the edges wholly beyond the best place so far: they can cross nothing better. */
function dropBeyond(s: Search, rows: number): number {
  let kept = 0;
  for (let i = 0; i < rows; i++) {
    const p = i * ROW + (s.byX ? 0 : 1);
    if (edges[p]! > s.first && edges[p + 2]! > s.first) continue;
    if (kept < i) edges.copyWithin(kept * ROW, i * ROW, i * ROW + ROW);
    kept++;
  }
  return kept;
}

/** Tries the crossings of edges of different obstacles. */
function tryCrossings(s: Search, rows: number): void {
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
    if ((s.byX ? loX : loY) > s.first) continue;
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
      const r = ((cx - ax) * uy - (cy - ay) * ux) / d;
      if (t < 0 || t > 1 || r < 0 || r > 1) continue;
      // On an axis-parallel edge the crossing keeps that edge's coordinate exactly.
      tryAt(s, ux === 0 ? ax : wx === 0 ? cx : ax + t * ux, uy === 0 ? ay : wy === 0 ? cy : ay + t * uy);
    }
  }
}

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
  const s: Search = {
    room,
    obstacles,
    byX: preference.first === 'x',
    way: preference.second,
    first: Infinity,
    second: Infinity,
  };
  for (const x of [x0, x1]) for (const y of [y0, y1]) tryGrid(s, x, y);
  tryCrossings(s, dropBeyond(s, tryEdges(s)));
  if (s.first === Infinity) return undefined;
  return s.byX ? [s.first, s.second * s.way + 0] : [s.second * s.way + 0, s.first];
}
