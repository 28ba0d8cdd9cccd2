import { type Point, pointAlong, pointInRing, ringSegments, segmentBounds } from '@haunch/geometry';
import { type Loop, loopEntity } from './loop.js';
import { properCrossing } from './self-crossing.js';

/** How a loop lies with respect to another. */
export type Lie = 'inside' | 'outside' | 'across';

/** So many places along a loop are looked at to see how it lies. */
const PLACES = 48;

/** Places spread over a loop: its corners and the middles of its segments. */
function placesOf(l: Loop): Point[] {
  const segments = ringSegments(l.ring);
  const step = Math.max(1, Math.ceil((2 * segments.length) / PLACES));
  const all = segments.flatMap((s) => [s.from, pointAlong(s, 0.5)]);
  return all.filter((_, i) => i % step === 0);
}

/** How `inner` lies with respect to `outer`, and a place outside it where it lies across. */
export function lieOfLoop(inner: Loop, outer: Loop): { readonly lie: Lie; readonly at: Point | null } {
  const [a, b] = [inner.bounds, outer.bounds];
  if (a.maxX <= b.minX || a.minX >= b.maxX || a.maxY <= b.minY || a.minY >= b.maxY)
    return { lie: 'outside', at: null };
  let inside = 0;
  let outside: Point | null = null;
  for (const p of placesOf(inner)) {
    const where =
      p.x < b.minX || p.x > b.maxX || p.y < b.minY || p.y > b.maxY ? 'outside' : pointInRing(outer.ring, p);
    if (where === 'inside') inside++;
    if (where === 'outside') outside ??= p;
    if (inside > 0 && outside !== null) return { lie: 'across', at: outside };
  }
  if (inside > 0) return { lie: 'inside', at: null };
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
  const items = loops
    .flatMap((l, i) => ringSegments(l.ring).map((s) => ({ s, i, box: segmentBounds(s) })))
    .map((item, order) => ({ ...item, order }))
    .sort((a, b) => a.box.minX - b.box.minX || a.order - b.order);
  const found = new Map<number, Point>();
  let active: typeof items = [];
  for (const item of items) {
    active = active.filter((a) => a.box.maxX >= item.box.minX);
    for (const a of active) {
      if (a.i === item.i || a.box.maxY < item.box.minY || a.box.minY > item.box.maxY) continue;
      const key = Math.min(a.i, item.i) * loops.length + Math.max(a.i, item.i);
      if (found.has(key)) continue;
      const p = properCrossing(a.s, item.s);
      if (p !== null) found.set(key, p);
    }
    active.push(item);
  }
  return found;
}

/** Nests loops by inclusion. Of two loops only the smaller can lie in the larger. */
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
  order.forEach((i, k) => {
    for (let j = 0; j < k; j++) {
      const outer = order[j]!;
      const crossing = crossed.get(Math.min(i, outer) * loops.length + Math.max(i, outer));
      if (crossing !== undefined) {
        across.push({ a: i, b: outer, at: crossing });
        continue;
      }
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
