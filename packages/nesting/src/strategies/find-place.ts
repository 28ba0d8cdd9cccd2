import { type GridBox, isInPiece, type NoFit, pieceAt } from './no-fit.js';

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

/** A search under way: what is free and what is wanted. Its numbers are in the work space. */
interface Search {
  readonly obstacles: readonly Obstacle[];
  readonly byX: boolean;
  readonly way: 1 | -1;
  /** The obstacle that last forbade a place. */
  last: number;
}

/*
 * The work space. Numbers that loops ask for often are in arrays of doubles: whole numbers and others would be
 * two kinds of number elsewhere, and a first layout would take longer to compile, and compile again, than to run.
 */

/** Least x, least y, greatest x, greatest y of where the place may be. */
const room = new Float64Array(4);
/** The best place so far: what is to be least along the first choice's axis, and then along the other. */
const best = new Float64Array(2);
/** Rows of x, y, x, y of an edge and the number of its obstacle. */
const ROW = 5;
let edges = new Float64Array(ROW * 1024);
/** Boxes of the obstacles in hand, four numbers each: flat, as every place is held against all of them. */
let boxes = new Float64Array(4 * 256);
/** Their origins, two numbers each. */
let origins = new Float64Array(2 * 256);

function setBoxes(obstacles: readonly Obstacle[]): void {
  if (origins.length < 2 * obstacles.length) {
    boxes = new Float64Array(8 * obstacles.length);
    origins = new Float64Array(4 * obstacles.length);
  }
  for (let k = 0; k < obstacles.length; k++) {
    const { noFit, x, y } = obstacles[k]!;
    const box = noFit.boxes;
    boxes[4 * k] = box[0]! + x;
    boxes[4 * k + 1] = box[1]! + y;
    boxes[4 * k + 2] = box[2]! + x;
    boxes[4 * k + 3] = box[3]! + y;
    origins[2 * k] = x;
    origins[2 * k + 1] = y;
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

/** The piece of obstacle `k` that a place is strictly inside of; −1 where there is none. */
const pieceOf = (s: Search, k: number, x: number, y: number): number =>
  pieceAt(s.obstacles[k]!.noFit, x - origins[2 * k]!, y - origins[2 * k + 1]!);

function tryGrid(s: Search, x: number, y: number): void {
  const first = s.byX ? x : y;
  const second = (s.byX ? y : x) * s.way;
  if (first > best[0]! || (first === best[0]! && second >= best[1]!)) return;
  if (x < room[0]! || x > room[2]! || y < room[1]! || y > room[3]!) return;
  const count = s.obstacles.length;
  // What forbade the last place is likely to forbid this one.
  if (s.last < count && pieceOf(s, s.last, x, y) >= 0) return;
  for (let k = nextBox(count, 0, x, y); k < count; k = nextBox(count, k + 1, x, y)) {
    if (pieceOf(s, k, x, y) < 0) continue;
    s.last = k;
    return;
  }
  best[0] = first;
  best[1] = second;
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
    const piece = pieceOf(s, k, ax, ay);
    if (piece < 0) continue;
    if (isInPiece(s.obstacles[k]!.noFit, piece, bx - origins[2 * k]!, by - origins[2 * k + 1]!)) return true;
  }
  return false;
}

/** Tries the ends of all edges and where they cross the room's sides; leaves the edges in the work space. */
function tryEdges(s: Search): number {
  const x0 = room[0]!;
  const y0 = room[1]!;
  const x1 = room[2]!;
  const y1 = room[3]!;
  let rows = 0;
  for (let k = 0; k < s.obstacles.length; k++) {
    const b = 4 * k;
    if (boxes[b]! > x1 || boxes[b + 1]! > y1 || boxes[b + 2]! < x0 || boxes[b + 3]! < y0) continue;
    // All of it lies beyond the best place so far.
    if ((s.byX ? boxes[b]! : boxes[b + 1]!) > best[0]!) continue;
    const e = s.obstacles[k]!.noFit.edges;
    const x = origins[2 * k]!;
    const y = origins[2 * k + 1]!;
    if ((rows + e.length) * ROW > edges.length) {
      const more = new Float64Array(2 * (rows + e.length) * ROW);
      more.set(edges);
      edges = more;
    }
    let tried = false;
    let lastX = 0;
    let lastY = 0;
    for (let i = 0; i < e.length; i += 4) {
      const ax = e[i]! + x;
      const ay = e[i + 1]! + y;
      const bx = e[i + 2]! + x;
      const by = e[i + 3]! + y;
      if ((ax < x0 && bx < x0) || (ax > x1 && bx > x1)) continue;
      if ((ay < y0 && by < y0) || (ay > y1 && by > y1)) continue;
      if ((s.byX ? Math.min(ax, bx) : Math.min(ay, by)) > best[0]!) continue;
      if (isBuried(s, ax, ay, bx, by)) continue;
      // An edge begins where the one before it ends.
      if (!tried || ax !== lastX || ay !== lastY) tryAt(s, ax, ay);
      tryAt(s, bx, by);
      tried = true;
      lastX = bx;
      lastY = by;
      if (ax < x0 !== bx < x0) tryAt(s, x0, ay + ((x0 - ax) / (bx - ax)) * (by - ay));
      if (ax < x1 !== bx < x1) tryAt(s, x1, ay + ((x1 - ax) / (bx - ax)) * (by - ay));
      if (ay < y0 !== by < y0) tryAt(s, ax + ((y0 - ay) / (by - ay)) * (bx - ax), y0);
      if (ay < y1 !== by < y1) tryAt(s, ax + ((y1 - ay) / (by - ay)) * (bx - ax), y1);
      const row = rows++ * ROW;
      edges[row] = ax;
      edges[row + 1] = ay;
      edges[row + 2] = bx;
      edges[row + 3] = by;
      edges[row + 4] = k;
    }
  }
  return rows;
}

/** Where along the first choice's axis each edge begins. */
let starts = new Float64Array(1024);

const byStart = (i: number, j: number): number => starts[i]! - starts[j]! || i - j;

/**
 * Tries the crossings of edges of different obstacles, in the order in which the edges begin along the first
 * choice's axis: an edge that begins beyond the end of another, or beyond the best place so far, is not met.
 */
function tryCrossings(s: Search, rows: number): void {
  const axis = s.byX ? 0 : 1;
  if (starts.length < rows) starts = new Float64Array(2 * rows);
  const order: number[] = [];
  for (let i = 0; i < rows; i++) {
    const start = Math.min(edges[i * ROW + axis]!, edges[i * ROW + 2 + axis]!);
    starts[i] = start;
    if (start <= best[0]!) order.push(i);
  }
  order.sort(byStart);
  for (let i = 0; i < order.length; i++) {
    const p = order[i]! * ROW;
    if (starts[order[i]!]! > best[0]!) return;
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
 * The best free place for a reference point within a room, on the grid, or none. The best place of a closed
 * free region is a corner of the room, a corner of a no-fit polygon, or a crossing of their edges, so these are
 * tried (Burke, Hellier, Kendall & Whitwell, "A new bottom-left-fill heuristic algorithm for the
 * two-dimensional irregular packing problem", Operations Research 54, 2006, tries the same points). A crossing
 * off the grid is tried at the four grid points round it. What is answered is free exactly.
 */
export function findPlace(
  within: GridBox,
  obstacles: readonly Obstacle[],
  preference: CornerPreference,
): readonly [number, number] | undefined {
  room.set(within);
  if (room[0]! > room[2]! || room[1]! > room[3]!) return undefined;
  const s: Search = { obstacles, byX: preference.first === 'x', way: preference.second, last: 0 };
  best.fill(Infinity);
  setBoxes(obstacles);
  tryGrid(s, room[0]!, room[1]!);
  tryGrid(s, room[0]!, room[3]!);
  tryGrid(s, room[2]!, room[1]!);
  tryGrid(s, room[2]!, room[3]!);
  tryCrossings(s, tryEdges(s));
  if (best[0] === Infinity) return undefined;
  return s.byX ? [best[0]!, best[1]! * s.way + 0] : [best[1]! * s.way + 0, best[0]!];
}
