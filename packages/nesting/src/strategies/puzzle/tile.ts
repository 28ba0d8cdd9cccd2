import { convexPieces } from '../convex-pieces.js';
import type { GridPolygon } from '../outer-polygon.js';
import type { Direction } from './direction.js';

/** A corner of a tile: where it is, and which way its two edges leave it; the tile lies counter-clockwise of `out` up to `back`. */
export interface TileCorner {
  readonly x: number;
  readonly y: number;
  readonly out: Direction;
  readonly back: Direction;
  /** Less than half a turn between the two. */
  readonly convex: boolean;
}

/** An exact outline on the grid, ready to be put together with others. */
export interface Tile {
  readonly outline: GridPolygon;
  readonly corners: readonly TileCorner[];
  readonly pieces: readonly GridPolygon[];
  readonly width: number;
  readonly height: number;
}

/** A tile of an outline whose box has its lower left corner at the origin; straight corners are none. */
export function tileOf(outline: GridPolygon): Tile {
  const n = outline.length / 2;
  const X = (i: number): number => outline[2 * ((i + n) % n)]!;
  const Y = (i: number): number => outline[2 * ((i + n) % n) + 1]!;
  const corners: TileCorner[] = [];
  for (let i = 0; i < n; i++) {
    const out = { x: X(i + 1) - X(i), y: Y(i + 1) - Y(i) };
    const back = { x: X(i - 1) - X(i), y: Y(i - 1) - Y(i) };
    const turn = out.x * back.y - out.y * back.x;
    if (turn !== 0) corners.push({ x: X(i), y: Y(i), out, back, convex: turn > 0 });
  }
  return {
    outline: corners.flatMap((c) => [c.x, c.y]),
    corners,
    pieces: convexPieces(outline),
    width: Math.max(...corners.map((c) => c.x)),
    height: Math.max(...corners.map((c) => c.y)),
  };
}

/** Whether an edge of `a` has all of `b`, moved by (dx, dy), on its outside or on it. */
function separates(a: GridPolygon, b: GridPolygon, dx: number, dy: number): boolean {
  const n = a.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    const ex = a[j]! - a[i]!;
    const ey = a[j + 1]! - a[i + 1]!;
    let outside = true;
    for (let k = 0; k < b.length && outside; k += 2)
      outside = ex * (b[k + 1]! + dy - a[i + 1]!) - ey * (b[k]! + dx - a[i]!) <= 0;
    if (outside) return true;
  }
  return false;
}

/** Whether two tiles share more than a border when `b` lies at (dx, dy) from `a`. Exact. */
export function tilesOverlap(a: Tile, b: Tile, dx: number, dy: number): boolean {
  if (dx >= a.width || dy >= a.height || dx + b.width <= 0 || dy + b.height <= 0) return false;
  return a.pieces.some((p) => b.pieces.some((q) => !separates(p, q, dx, dy) && !separates(q, p, -dx, -dy)));
}
