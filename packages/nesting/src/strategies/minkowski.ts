import { convexHull } from './convex-pieces.js';
import type { GridPolygon } from './outer-polygon.js';

/** Index of the lowest, then leftmost, corner. */
function lowest(p: GridPolygon): number {
  let at = 0;
  for (let i = 2; i < p.length; i += 2)
    if (p[i + 1]! < p[at + 1]! || (p[i + 1] === p[at + 1] && p[i]! < p[at]!)) at = i;
  return at;
}

/**
 * The sum of two convex counter-clockwise polygons (Minkowski): edges of both, merged by direction. Exact on
 * the grid. A single point counts as convex; no corner may come twice.
 */
export function convexSum(a: GridPolygon, b: GridPolygon): GridPolygon {
  const na = a.length;
  const nb = b.length;
  const ia = lowest(a);
  const ib = lowest(b);
  const out: number[] = [];
  let x = a[ia]! + b[ib]!;
  let y = a[ia + 1]! + b[ib + 1]!;
  let i = 0;
  let j = 0;
  while (i < na || j < nb) {
    out.push(x, y);
    const at = (ia + i) % na;
    const bt = (ib + j) % nb;
    const ax = i < na ? a[(at + 2) % na]! - a[at]! : 0;
    const ay = i < na ? a[((at + 2) % na) + 1]! - a[at + 1]! : 0;
    const bx = j < nb ? b[(bt + 2) % nb]! - b[bt]! : 0;
    const by = j < nb ? b[((bt + 2) % nb) + 1]! - b[bt + 1]! : 0;
    const c = ax * by - ay * bx;
    const takeA = i < na && (j >= nb || c >= 0);
    const takeB = j < nb && (i >= na || c <= 0);
    if (takeA) {
      x += ax;
      y += ay;
      i += 2;
    }
    if (takeB) {
      x += bx;
      y += by;
      j += 2;
    }
  }
  return withoutStraight(out);
}

/** A convex polygon without doubled and straight corners. */
function withoutStraight(p: GridPolygon): GridPolygon {
  const out: number[] = [];
  const n = p.length;
  let px = p[n - 2]!;
  let py = p[n - 1]!;
  for (let i = 0; i < n; i += 2) {
    const x = p[i]!;
    const y = p[i + 1]!;
    const nx = p[(i + 2) % n]!;
    const ny = p[((i + 2) % n) + 1]!;
    if ((x - px) * (ny - y) - (y - py) * (nx - x) === 0) continue;
    out.push(x, y);
    px = x;
    py = y;
  }
  return out;
}

/** The polygon turned by half a turn about the origin. */
export const opposite = (p: GridPolygon): GridPolygon => p.map((v) => -v + 0);

/** Corners of the round brush that grows outlines. */
const BRUSH_CORNERS = 16;

/**
 * A polygon round the disc of radius `r` steps, with edges square to the axes that touch the disc: at most 2 %
 * outside it, plus a step.
 */
export function brush(r: number): GridPolygon {
  const half = Math.ceil(r);
  if (half <= 0) return [0, 0];
  const out: number[] = [];
  for (let k = 0; k < BRUSH_CORNERS; k++) {
    const a = ((k + 0.5) * 2 * Math.PI) / BRUSH_CORNERS;
    const reach = half / Math.cos(Math.PI / BRUSH_CORNERS);
    // Away from the origin, all four quarters alike, so that the rounded polygon covers the unrounded one.
    const away = (v: number): number => Math.sign(v) * Math.ceil(Math.abs(v) - 1e-6);
    out.push(away(reach * Math.cos(a)), away(reach * Math.sin(a)));
  }
  return convexHull(out);
}

/** How high above the brush's corners a square corner may stand, in radii: that of a right angle is 0.57. */
const SQUARE_HEIGHT = 0.6;

/**
 * A convex polygon whose long edges are lengthened until they meet, where only short edges (up to `r`) lie
 * between them, the new corner is on the grid and no higher than that of a right angle: a grown rectangle
 * stays a rectangle.
 */
export function squareCorners(p: GridPolygon, r: number): GridPolygon {
  const n = p.length / 2;
  const X = (k: number): number => p[2 * (k % n)]!;
  const Y = (k: number): number => p[2 * (k % n) + 1]!;
  const isLong = (k: number): boolean => Math.hypot(X(k + 1) - X(k), Y(k + 1) - Y(k)) > r;
  const first = Array.from({ length: n }, (_, k) => k).find(isLong);
  if (first === undefined) return p;
  const out: number[] = [];
  for (let i = first; i < first + n; ) {
    // From the long edge i → i+1 to the next long edge j → j+1.
    let j = i + 1;
    while (!isLong(j)) j++;
    const tip =
      j > i + 1
        ? squareCorner([X(i), Y(i), X(i + 1), Y(i + 1)], [X(j), Y(j), X(j + 1), Y(j + 1)], r)
        : undefined;
    if (tip) out.push(...tip);
    else for (let k = i + 1; k <= j; k++) out.push(X(k), Y(k));
    i = j;
  }
  return out;
}

/** Where two edges of a convex polygon meet when lengthened, if that is a corner worth having. */
function squareCorner(a: GridPolygon, b: GridPolygon, r: number): readonly [number, number] | undefined {
  const [ax, ay, bx, by] = a as [number, number, number, number];
  const [cx, cy, dx, dy] = b as [number, number, number, number];
  const turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
  if (turn <= 0) return undefined;
  const t = ((cx - bx) * (dy - cy) - (cy - by) * (dx - cx)) / turn;
  const tx = bx + t * (bx - ax);
  const ty = by + t * (by - ay);
  const height = Math.abs((cx - bx) * (ty - by) - (cy - by) * (tx - bx)) / Math.hypot(cx - bx, cy - by);
  const x = Math.round(tx);
  const y = Math.round(ty);
  const onGrid = Math.max(Math.abs(x - tx), Math.abs(y - ty)) <= 1e-6;
  return t >= 0 && height <= SQUARE_HEIGHT * r && onGrid ? [x, y] : undefined;
}
