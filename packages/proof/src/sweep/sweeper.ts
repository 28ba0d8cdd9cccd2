import type { Box, Clip, Point, Polygon } from '@haunch/geometry';
import { chainCurves } from './chain-curves.js';
import { coveredBy } from './covered.js';
import { countCrossings } from './crossings.js';
import type { Fineness } from './fineness.js';
import { type Curve, curveKey, mergeTracks } from './merge-tracks.js';
import { discAt, isTight, sectorOf } from './tight-arcs.js';
import { TooDense } from './too-dense.js';
import type { Track } from './track.js';

/** What a group of paths removes; its polygons do not overlap each other. */
export interface Patch {
  /** Counts up from 0 within one sweeper. */
  readonly id: number;
  /** Counter-clockwise is removed, clockwise an island left in it. mm */
  readonly polygons: readonly Polygon[];
  readonly box: Box;
}

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
  readonly radius: number;
  readonly curves: Curve[];
  readonly keys: string[];
}

const nodeOf = (p: Point): string => `${Math.round(p.x * 1e5) + 0} ${Math.round(p.y * 1e5) + 0}`;

/** Curves of one cutter, grouped by meeting end to end. */
function groupsOf(radius: number, curves: readonly Curve[]): Group[] {
  const parent = curves.map((_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[i] !== root) [parent[i], i] = [root, parent[i]!];
    return root;
  };
  const owner = new Map<string, number>();
  curves.forEach((curve, i) => {
    for (const node of [nodeOf(curve.a), nodeOf(curve.b)]) {
      const other = owner.get(node);
      if (other === undefined) owner.set(node, i);
      else {
        const [a, b] = [find(i), find(other)];
        if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
      }
    }
  });
  const groups = new Map<number, Group>();
  curves.forEach((curve, i) => {
    const root = find(i);
    let group = groups.get(root);
    if (!group) {
      group = { radius, curves: [], keys: [String(radius)] };
      groups.set(root, group);
    }
    group.curves.push(curve);
    group.keys.push(curveKey(curve));
  });
  return [...groups.values()];
}

/** So often the ways that one sweeper sweeps may cross each other: seconds of work; a board hatched both ways has 170,000. */
const MOST_CROSSINGS = 250_000;
/** Fewer curves than this that meet end to end are swept without counting. */
const FEW = 100;

/** Sweeps tracks to polygons, and remembers what it has swept before. */
export interface Sweeper {
  /** Patches may overlap; together they are what is removed. */
  sweep(tracks: readonly Track[]): readonly Patch[];
}

/**
 * A sweeper that follows each curve as finely as `fineness` says. Paths that meet end to end make one patch, level
 * ways apart from what ramps add to them: the way round a contour is then the same on every pass, and equal sets of
 * paths give the very same patch.
 * @throws TooDense when the ways cross each other more than 250,000 times, which would take minutes and hours.
 */
export function makeSweeper(clip: Clip, fineness: Fineness): Sweeper {
  const known = new Map<string, Patch>();
  let crossings = 0;
  const patchOf = ({ radius, curves, keys }: Group): Patch => {
    const key = keys.join(';');
    const old = known.get(key);
    if (old) return old;
    if (curves.length >= FEW) {
      const { count, at } = countCrossings(curves, MOST_CROSSINGS - crossings);
      crossings += count;
      if (crossings > MOST_CROSSINGS) throw new TooDense(at ?? curves[0]!.a);
    }
    const swept: Polygon[] = [];
    let parts = 0;
    const of = new Map(curves.map((c) => [c, fineness(c, radius)]));
    const long = curves.filter((c) => !isTight(c, radius));
    for (const wanted of [...new Set(of.values())].sort((a, b) => a - b)) {
      const chains = chainCurves(
        long.filter((c) => of.get(c) === wanted),
        wanted,
      );
      if (chains.length === 0) continue;
      swept.push(...clip.sweep(chains, radius, wanted));
      parts++;
    }
    // The finest round end that stands at a place already: the sweep of what meets a tight arc there.
    const ends = new Map<string, number>();
    const endsAt = (p: Point, tolerance: number): boolean => (ends.get(nodeOf(p)) ?? Infinity) <= tolerance;
    for (const c of long)
      for (const p of [c.a, c.b]) if (!endsAt(p, of.get(c)!)) ends.set(nodeOf(p), of.get(c)!);
    for (const c of curves) {
      if (!isTight(c, radius)) continue;
      const tolerance = of.get(c)!;
      swept.push(...sectorOf(c, radius, tolerance));
      parts++;
      if (c.sweep >= 2 * Math.PI - 1e-9) continue;
      for (const p of [c.a, c.b]) {
        if (endsAt(p, tolerance)) continue;
        swept.push(discAt(p, radius, tolerance));
        ends.set(nodeOf(p), tolerance);
        parts++;
      }
    }
    const polygons = parts > 1 ? clip.union(swept) : swept;
    const patch = { id: known.size, polygons, box: boxOf(polygons) };
    known.set(key, patch);
    return patch;
  };
  return {
    sweep(tracks) {
      const byRadius = new Map<number, { level: Track[]; ramps: Track[] }>();
      for (const t of tracks) {
        let both = byRadius.get(t.radius);
        if (!both) {
          both = { level: [], ramps: [] };
          byRadius.set(t.radius, both);
        }
        (t.level ? both.level : both.ramps).push(t);
      }
      const patches = [...byRadius]
        .sort((a, b) => a[0] - b[0])
        .flatMap(([radius, { level, ramps }]) => {
          const curves = mergeTracks(level);
          const covered = coveredBy(curves);
          const steep = mergeTracks(ramps).filter((c) => !covered(c));
          return [...groupsOf(radius, curves), ...groupsOf(radius, steep)].map(patchOf);
        });
      return [...new Set(patches)];
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
