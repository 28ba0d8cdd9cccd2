import type { Box, Clip, Point, Polygon } from '@haunch/geometry';
import { chainCurves } from './chain-curves.js';
import type { Fineness } from './fineness.js';
import { type Curve, curveKey, mergeTracks } from './merge-tracks.js';
import { discAt, isTight, sectorOf } from './tight-arcs.js';
import type { Track } from './track.js';
import { cellsOf } from './track-index.js';

/** What a group of paths removes that touches nothing of any other group. */
export interface Patch {
  /** Counts up from 0 within one sweeper. */
  readonly id: number;
  /** Counter-clockwise is removed, clockwise an island left in it. mm */
  readonly polygons: readonly Polygon[];
  readonly box: Box;
}

/** Side of the squares by which paths are grouped, mm. */
const CELL = 12;

/** The box round some polygons, mm; turned inside out when there are none. */
export function boxOf(polygons: readonly Polygon[]): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const polygon of polygons)
    for (const p of polygon) {
      if (p.x < minX) minX = p.x;
      if (p.x > maxX) maxX = p.x;
      if (p.y < minY) minY = p.y;
      if (p.y > maxY) maxY = p.y;
    }
  return { minX, minY, maxX, maxY };
}

/** Whether two boxes have a point in common when each is grown by `by` mm. */
export const boxesMeet = (a: Box, b: Box, by = 0): boolean =>
  a.minX <= b.maxX + by && b.minX <= a.maxX + by && a.minY <= b.maxY + by && b.minY <= a.maxY + by;

interface Group {
  readonly curves: Map<number, Curve[]>;
  readonly keys: string[];
}

/** Curves grouped so that what different groups sweep cannot touch. */
function groupsOf(byRadius: ReadonlyMap<number, readonly Curve[]>): Group[] {
  const items: { radius: number; curve: Curve }[] = [];
  for (const [radius, curves] of [...byRadius].sort((a, b) => a[0] - b[0]))
    for (const curve of curves) items.push({ radius, curve });
  const parent = items.map((_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[i] !== root) [parent[i], i] = [root, parent[i]!];
    return root;
  };
  const owner = new Map<number, number>();
  items.forEach(({ radius, curve }, i) => {
    for (const cell of cellsOf({ ...curve, radius, line: 0, index: 0 }, radius, CELL)) {
      const other = owner.get(cell);
      if (other === undefined) owner.set(cell, i);
      else {
        const [a, b] = [find(i), find(other)];
        if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
      }
    }
  });
  const groups = new Map<number, Group>();
  items.forEach(({ radius, curve }, i) => {
    const root = find(i);
    let group = groups.get(root);
    if (!group) {
      group = { curves: new Map(), keys: [] };
      groups.set(root, group);
    }
    const list = group.curves.get(radius);
    if (list) list.push(curve);
    else group.curves.set(radius, [curve]);
    group.keys.push(`${radius}${curveKey(curve)}`);
  });
  return [...groups.values()];
}

/** Sweeps tracks to polygons, and remembers what it has swept before. */
export interface Sweeper {
  sweep(tracks: readonly Track[]): readonly Patch[];
}

/**
 * A sweeper that follows each curve as finely as `fineness` says. Equal sets of paths give the very same patch.
 */
export function makeSweeper(clip: Clip, fineness: Fineness): Sweeper {
  const known = new Map<string, Patch>();
  const patchOf = (group: Group): Patch => {
    const key = group.keys.join(';');
    const old = known.get(key);
    if (old) return old;
    const swept: Polygon[] = [];
    let parts = 0;
    for (const [radius, curves] of group.curves) {
      const tight = curves.filter((c) => isTight(c, radius));
      const long = curves.filter((c) => !isTight(c, radius));
      const of = new Map(curves.map((c) => [c, fineness(c, radius)]));
      for (const wanted of [...new Set(of.values())].sort((a, b) => a - b)) {
        const chains = chainCurves(
          long.filter((c) => of.get(c) === wanted),
          wanted,
        );
        if (chains.length === 0) continue;
        swept.push(...clip.sweep(chains, radius, wanted));
        parts++;
      }
      for (const c of tight) {
        const tolerance = of.get(c)!;
        swept.push(...sectorOf(c, radius, tolerance));
        if (c.sweep < 2 * Math.PI - 1e-9)
          swept.push(discAt(c.a, radius, tolerance), discAt(c.b, radius, tolerance));
        parts += 3;
      }
    }
    const polygons = parts > 1 ? clip.union(swept) : swept;
    const patch = { id: known.size, polygons, box: boxOf(polygons) };
    known.set(key, patch);
    return patch;
  };
  return {
    sweep(tracks) {
      const byRadius = new Map<number, Track[]>();
      for (const t of tracks) {
        const list = byRadius.get(t.radius);
        if (list) list.push(t);
        else byRadius.set(t.radius, [t]);
      }
      return groupsOf(new Map([...byRadius].map(([r, list]) => [r, mergeTracks(list)]))).map(patchOf);
    },
  };
}

/** Whether a point lies inside a polygon; on its edge either answer. */
export function insidePolygon(polygon: Polygon, p: Point): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[i]!;
    const b = polygon[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}

/** The signed area of a polygon, mm²; positive counter-clockwise. */
export function polygonArea(polygon: Polygon): number {
  let sum = 0;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++)
    sum += polygon[j]!.x * polygon[i]!.y - polygon[i]!.x * polygon[j]!.y;
  return sum / 2;
}
