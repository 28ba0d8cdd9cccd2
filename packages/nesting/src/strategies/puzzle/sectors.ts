import { byAngle, type Direction, sameDirection } from './direction.js';
import type { Tile } from './tile.js';

/** A turn counter-clockwise from one direction to another. */
export interface Sector {
  readonly from: Direction;
  readonly to: Direction;
}

const RIGHT: Direction = { x: 1, y: 0 };
const UP: Direction = { x: 0, y: 1 };
const LEFT: Direction = { x: -1, y: 0 };
const DOWN: Direction = { x: 0, y: -1 };

/** What lies outside a frame as seen from a point on it; undefined within. */
export function outsideSector(x: number, y: number, width: number, height: number): Sector | undefined {
  const left = x === 0;
  const right = x === width;
  if (y === 0)
    return left ? { from: UP, to: RIGHT } : right ? { from: LEFT, to: UP } : { from: LEFT, to: RIGHT };
  if (y === height)
    return left ? { from: RIGHT, to: DOWN } : right ? { from: DOWN, to: LEFT } : { from: RIGHT, to: LEFT };
  return left ? { from: UP, to: DOWN } : right ? { from: DOWN, to: UP } : undefined;
}

/** The part of a tile's surroundings that it takes round a point (tile coordinates); undefined where it does not touch it. */
export function sectorOf(tile: Tile, x: number, y: number): Sector | undefined {
  if (x < 0 || y < 0 || x > tile.width || y > tile.height) return undefined;
  const { corners } = tile;
  const n = corners.length;
  for (let i = 0; i < n; i++) {
    const c = corners[i]!;
    if (c.x === x && c.y === y) return { from: c.out, to: c.back };
    const [rx, ry] = [x - c.x, y - c.y];
    if (c.out.x * ry - c.out.y * rx !== 0) continue;
    const along = c.out.x * rx + c.out.y * ry;
    if (along <= 0) continue;
    const next = corners[i + 1 === n ? 0 : i + 1]!;
    const length = (next.x - c.x) ** 2 + (next.y - c.y) ** 2;
    // `out` may be shorter than the edge where straight corners were left out.
    if (rx * rx + ry * ry < length) return { from: c.out, to: { x: -c.out.x, y: -c.out.y } };
  }
  return undefined;
}

/** The free turns between sectors that do not overlap; none where there are no sectors. */
export function gapsBetween(sectors: readonly Sector[]): Sector[] {
  const sorted = [...sectors].sort((a, b) => byAngle(a.from, b.from));
  return sorted.flatMap((s, i) => {
    const next = sorted[(i + 1) % sorted.length]!;
    return sameDirection(s.to, next.from) ? [] : [{ from: s.to, to: next.from }];
  });
}
