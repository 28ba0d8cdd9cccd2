import { type GridBox, isForbidden, isInPiece, type NoFit, pieceAt } from './no-fit.js';

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
  /** The obstacle that last forbade a place. */
  last: number;
}

/** Rows of the work space: x, y, x, y of an edge and the number of its obstacle. */
const ROW = 5;
let edges = new Float64Array(ROW * 1024);
/** Boxes of the obstacles in hand, four numbers each: flat, as every place is held against all of them. */
let boxes = new Float64Array(4 * 256);

function setBoxes(obstacles: readonly Obstacle[]): void {
  if (boxes.length < 4 * obstacles.length) boxes = new Float64Array(8 * obstacles.length);
  for (let k = 0; k < obstacles.length; k++) {
    const { noFit, x, y } = obstacles[k]!;
    boxes[4 * k] = noFit.box[0] + x;
    boxes[4 * k + 1] = noFit.box[1] + y;
    boxes[4 * k + 2] = noFit.box[2] + x;
    boxes[4 * k + 3] = noFit.box[3] + y;
  }
}

/** The first obstacle from `from` on whose box has the point strictly inside it; their number where there is none. */
function nextBox(count: number, from: number, x: number, y: number): number {
  for (let k = from; k < count; k++) {
    const b = 4 * k;
    if (x > boxes[b]! && y > boxes[b + 1]! && x < boxes[b + 2]! && y < boxes[b + 3]!) return k;
  }
  return count;
}

function tryGrid(s: Search, x: number, y: number): void {
  const first = s.byX ? x : y;
  const second = (s.byX ? y : x) * s.way;
  if (first > s.first || (first === s.first && second >= s.second)) return;
  if (x < s.room[0] || x > s.room[2] || y < s.room[1] || y > s.room[3]) return;
  // What forbade the last place is likely to forbid this one.
  const last = s.obstacles[s.last];
  if (last && isForbidden(last.noFit, x - last.x, y - last.y)) return;
  const count = s.obstacles.length;
  for (let k = nextBox(count, 0, x, y); k < count; k = nextBox(count, k + 1, x, y)) {
    const o = s.obstacles[k]!;
    if (isForbidden(o.noFit, x - o.x, y - o.y)) {
      s.last = k;
      return;
    }
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

/** Whether an edge lies wholly inside one piece of an obstacle, so that nothing on it is free. */
function isBuried(s: Search, ax: number, ay: number, bx: number, by: number): boolean {
  const count = s.obstacles.length;
  for (let k = nextBox(count, 0, ax, ay); k < count; k = nextBox(count, k + 1, ax, ay)) {
    const { noFit, x, y } = s.obstacles[k]!;
    const piece = pieceAt(noFit, ax - x, ay - y);
    if (piece >= 0 && isInPiece(noFit, piece, bx - x, by - y)) return true;
  }
  return false;
}

/** Tries the ends of all edges and where they cross the room's sides; leaves the edges in the work space. */
function tryEdges(s: Search): number {
  const [x0, y0, x1, y1] = s.room;
  let rows = 0;
  for (let k = 0; k < s.obstacles.length; k++) {
    const { noFit, x, y } = s.obstacles[k]!;
    const b = noFit.box;
    if (b[0] + x > x1 || b[1] + y > y1 || b[2] + x < x0 || b[3] + y < y0) continue;
    // All of it lies beyond the best place so far.
    if ((s.byX ? b[0] + x : b[1] + y) > s.first) continue;
    const e = noFit.edges;
    for (let i = 0; i < e.length; i += 4) {
      const ax = e[i]! + x;
      const ay = e[i + 1]! + y;
      const bx = e[i + 2]! + x;
      const by = e[i + 3]! + y;
      if ((ax < x0 && bx < x0) || (ax > x1 && bx > x1)) continue;
      if ((ay < y0 && by < y0) || (ay > y1 && by > y1)) continue;
      if ((s.byX ? Math.min(ax, bx) : Math.min(ay, by)) > s.first) continue;
      if (isBuried(s, ax, ay, bx, by)) continue;
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

/** Where along the first choice's axis an edge begins. */
const startOf = (row: number, axis: number): number =>
  Math.min(edges[row * ROW + axis]!, edges[row * ROW + 2 + axis]!);

/**
 * Tries the crossings of edges of different obstacles, in the order in which the edges begin along the first
 * choice's axis: an edge that begins beyond the end of another, or beyond the best place so far, is not met.
 */
function tryCrossings(s: Search, rows: number): void {
  const axis = s.byX ? 0 : 1;
  const order: number[] = [];
  for (let i = 0; i < rows; i++) if (startOf(i, axis) <= s.first) order.push(i);
  order.sort((i, j) => startOf(i, axis) - startOf(j, axis) || i - j);
  for (let i = 0; i < order.length; i++) {
    const p = order[i]! * ROW;
    if (startOf(order[i]!, axis) > s.first) return;
    const ax = edges[p]!;
    const ay = edges[p + 1]!;
    const bx = edges[p + 2]!;
    const by = edges[p + 3]!;
    const end = Math.max(edges[p + axis]!, edges[p + 2 + axis]!);
    const lo = axis === 0 ? Math.min(ay, by) : Math.min(ax, bx);
    const hi = axis === 0 ? Math.max(ay, by) : Math.max(ax, bx);
    for (let j = i + 1; j < order.length; j++) {
      const q = order[j]! * ROW;
      const c = edges[q + axis]!;
      const d = edges[q + 2 + axis]!;
      if (c > end && d > end) break;
      const e = edges[q + 1 - axis]!;
      const f = edges[q + 3 - axis]!;
      if ((e > hi && f > hi) || (e < lo && f < lo) || edges[q + 4] === edges[p + 4]) continue;
      tryCrossing(s, ax, ay, bx, by, q);
    }
  }
}

/** Tries the place where the edge a–b crosses the one in the work space at `q`. */
function tryCrossing(s: Search, ax: number, ay: number, bx: number, by: number, q: number): void {
  const cx = edges[q]!;
  const cy = edges[q + 1]!;
  const ux = bx - ax;
  const uy = by - ay;
  const wx = edges[q + 2]! - cx;
  const wy = edges[q + 3]! - cy;
  const d = ux * wy - uy * wx;
  if (d === 0) return;
  const t = ((cx - ax) * wy - (cy - ay) * wx) / d;
  const r = ((cx - ax) * uy - (cy - ay) * ux) / d;
  if (t < 0 || t > 1 || r < 0 || r > 1) return;
  // On an axis-parallel edge the crossing keeps that edge's coordinate exactly.
  tryAt(s, ux === 0 ? ax : wx === 0 ? cx : ax + t * ux, uy === 0 ? ay : wy === 0 ? cy : ay + t * uy);
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
    last: 0,
  };
  setBoxes(obstacles);
  for (const x of [x0, x1]) for (const y of [y0, y1]) tryGrid(s, x, y);
  tryCrossings(s, tryEdges(s));
  if (s.first === Infinity) return undefined;
  return s.byX ? [s.first, s.second * s.way + 0] : [s.second * s.way + 0, s.first];
}
