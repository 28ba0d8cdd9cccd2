import {
  indexBoxes,
  type Point,
  pointAlong,
  pointInRing,
  pointRingDistance,
  ringSegments,
  segmentBounds,
} from '@haunch/geometry';
import { JOIN } from './join-ends.js';
import { type Loop, loopEntity } from './loop.js';
import { properCrossing } from './self-crossing.js';
import { budgetOf } from './too-tangled.js';

/** How a loop lies with respect to another. */
export type Lie = 'inside' | 'outside' | 'across';

/** Pairs of edges that are looked at for crossings, and edges that are looked at for places inside. */
const MOST = { pairs: 2_000_000, pairsOfEach: 20, edges: 500_000_000 } as const;
/** What looking at one pair of contours costs at least, in edges. */
const PAIR = 400;
const TANGLED = 'contours lie over each other too often';

/** So many places along a loop are looked at to see how it lies: fewer in a large contour, but some. */
const PLACES = { most: 48, least: 4, edges: 50_000 } as const;

/** Places spread over a loop: its corners and the middles of its segments. */
function placesOf(l: Loop, outer: Loop): Point[] {
  const segments = ringSegments(l.ring);
  const places = Math.max(
    PLACES.least,
    Math.min(PLACES.most, Math.floor(PLACES.edges / outer.ring.vertices.length)),
  );
  const step = Math.max(1, Math.ceil((2 * segments.length) / places));
  const all = segments.flatMap((s) => [s.from, pointAlong(s, 0.5)]);
  return all.filter((_, i) => i % step === 0);
}

/** How `inner` lies with respect to `outer`, and a place outside it where it lies across. */
export function lieOfLoop(inner: Loop, outer: Loop): { readonly lie: Lie; readonly at: Point | null } {
  const [a, b] = [inner.bounds, outer.bounds];
  if (a.maxX <= b.minX || a.minX >= b.maxX || a.maxY <= b.minY || a.minY >= b.maxY)
    return { lie: 'outside', at: null };
  let inside: Point | null = null;
  let outside: Point | null = null;
  // What is inside by less than ends are joined over lies on the curve, as neighbours that touch do.
  const clear = (p: Point): boolean => pointRingDistance(outer.ring, p) > JOIN;
  for (const p of placesOf(inner, outer)) {
    const where =
      p.x < b.minX || p.x > b.maxX || p.y < b.minY || p.y > b.maxY ? 'outside' : pointInRing(outer.ring, p);
    if (where === 'inside' && (outside === null || clear(p))) inside ??= p;
    if (where === 'outside' && (inside === null || clear(p))) outside ??= p;
    if (inside === null || outside === null) continue;
    if (!clear(inside)) inside = null;
    else if (!clear(outside)) outside = null;
    else return { lie: 'across', at: outside };
  }
  if (inside !== null) return { lie: 'inside', at: null };
  if (outside !== null) return { lie: 'outside', at: null };
  // Every place lies on the other curve: one of them covers the other, or they are one.
  return { lie: inner.area < outer.area ? 'inside' : 'outside', at: null };
}

/** Loops with how deep each is nested and in which it lies, and pairs that lie across each other. */
export interface Nesting {
  readonly depth: readonly number[];
  /** For each loop the smallest loop round it; −1 for none. */
  readonly parent: readonly number[];
  readonly across: readonly { readonly a: number; readonly b: number; readonly at: Point }[];
}

/** The first place at which two loops cross each other, for every pair that does, by `i·n + j` with i < j. */
function crossings(loops: readonly Loop[]): ReadonlyMap<number, Point> {
  const items = loops.flatMap((l, i) => ringSegments(l.ring).map((s) => ({ s, i, box: segmentBounds(s) })));
  const found = new Map<number, Point>();
  if (loops.length < 2) return found;
  const index = indexBoxes(items.map((item) => item.box));
  const spend = budgetOf(MOST.pairs + MOST.pairsOfEach * items.length, TANGLED);
  items.forEach((item, k) => {
    const near: number[] = [];
    index.search(item.box, (j) => {
      spend(1);
      if (j > k && items[j]!.i !== item.i) near.push(j);
      return false;
    });
    for (const j of near.sort((p, q) => p - q)) {
      const other = items[j]!;
      const key = Math.min(other.i, item.i) * loops.length + Math.max(other.i, item.i);
      if (found.has(key)) continue;
      const p = properCrossing(item.s, other.s, JOIN);
      if (p !== null) found.set(key, p);
    }
  });
  return found;
}

/** Nests loops by inclusion. Of two loops only the smaller can lie in the larger. @throws TooTangled */
export function nestLoops(loops: readonly Loop[]): Nesting {
  const order = loops
    .map((_, i) => i)
    .sort(
      (a, b) =>
        loops[b]!.area - loops[a]!.area || loopEntity(loops[a]!).line - loopEntity(loops[b]!).line || a - b,
    );
  const depth = loops.map(() => 0);
  const parent = loops.map(() => -1);
  const across: { a: number; b: number; at: Point }[] = [];
  const crossed = crossings(loops);
  const rank = new Int32Array(loops.length);
  order.forEach((i, k) => {
    rank[i] = k;
  });
  const boxes = indexBoxes(loops.map((l) => l.bounds));
  const spend = budgetOf(MOST.edges, TANGLED);
  order.forEach((i, k) => {
    const larger: number[] = [];
    boxes.search(loops[i]!.bounds, (j) => {
      if (rank[j]! < k) larger.push(j);
      return false;
    });
    for (const outer of larger.sort((p, q) => rank[p]! - rank[q]!)) {
      const crossing = crossed.get(Math.min(i, outer) * loops.length + Math.max(i, outer));
      if (crossing !== undefined) {
        across.push({ a: i, b: outer, at: crossing });
        continue;
      }
      spend(4 * loops[outer]!.ring.vertices.length + PAIR);
      const { lie, at } = lieOfLoop(loops[i]!, loops[outer]!);
      if (lie === 'inside') {
        depth[i]!++;
        // Later ones in this order are smaller, so the last that holds it is the nearest.
        parent[i] = outer;
      } else if (lie === 'across') across.push({ a: i, b: outer, at: at! });
    }
  });
  return { depth, parent, across };
}
