import { distance, type Point } from '@haunch/geometry';
import type { WorkingstepKind } from '@haunch/model';
import { endOf, type Operation, startOf } from './operation.js';

const PHASE: Readonly<Record<WorkingstepKind, number>> = {
  drilling: 0,
  pocket: 1,
  hole: 2,
  'inside profile': 3,
  'outside profile': 4,
};

/** Inside cuts whose areas differ by less than about this factor count as equally large. */
const SIZE_STEP = 1.5;

const sizeOf = (o: Operation): number =>
  o.kind === 'outside profile'
    ? o.area
    : o.kind === 'inside profile'
      ? Math.round(Math.log(Math.max(o.area, 1)) / Math.log(SIZE_STEP))
      : 0;

/** For each operation the indices of those that must come before it. */
function predecessors(all: readonly Operation[]): number[][] {
  return all.map((o, i) =>
    all.flatMap((p, j) => {
      if (i === j) return [];
      const ownInside = o.kind === 'outside profile' && p.item === o.item && p.kind !== 'outside profile';
      return ownInside || o.encloses.includes(p.item) ? [j] : [];
    }),
  );
}

/** Cutters in this order of preference, staying with one as long as it has something that may be cut. */
function schedule(
  all: readonly Operation[],
  before: readonly (readonly number[])[],
  preference: readonly string[],
): { readonly order: readonly number[]; readonly changes: number } {
  const done = new Set<number>();
  const order: number[] = [];
  let at: Point = { x: 0, y: 0 };
  let cutter: string | undefined;
  let changes = 0;
  const undrilled = new Set(all.flatMap((o, i) => (o.kind === 'drilling' ? [i] : [])));
  while (order.length < all.length) {
    const ready = all.flatMap((o, i) => {
      if (done.has(i) || before[i]!.some((j) => !done.has(j))) return [];
      return undrilled.size === 0 || o.kind === 'drilling' ? [i] : [];
    });
    if (ready.length === 0) throw new RangeError('schedule: parts enclose each other');
    const rank = (i: number) => preference.indexOf(all[i]!.cutter.id);
    if (!ready.some((i) => all[i]!.cutter.id === cutter)) {
      cutter = all[ready.reduce((a, b) => (rank(b) < rank(a) ? b : a))]!.cutter.id;
      changes++;
    }
    const keyed = ready
      .filter((i) => all[i]!.cutter.id === cutter)
      .map((i) => {
        const o = all[i]!;
        return { i, key: [PHASE[o.kind], sizeOf(o), distance(at, startOf(o)), i] };
      });
    const next = keyed.reduce((a, b) => {
      const k = a.key.findIndex((v, n) => v !== b.key[n]);
      return b.key[k]! < a.key[k]! ? b : a;
    }).i;
    done.add(next);
    undrilled.delete(next);
    order.push(next);
    at = endOf(all[next]!);
  }
  return { order, changes };
}

const permutations = (ids: readonly string[]): string[][] =>
  ids.length <= 1
    ? [[...ids]]
    : ids.flatMap((id) => permutations(ids.filter((other) => other !== id)).map((rest) => [id, ...rest]));

/** With more cutters than this only the given order is tried. */
const MOST_TRIED = 5;

/**
 * The order of work: all drilling first, then pockets, bored holes, inside profiles small before large, outlines
 * small to large (reference value C11); an item's inside always before its outline, an item inside an opening
 * before that opening; the fewest changes of cutter that this permits; within a group always the nearest next.
 * Guarantees a total order: the same operations give the same sequence.
 */
export function orderOperations(all: readonly Operation[]): Operation[] {
  const before = predecessors(all);
  const ids = [...new Set(all.map((o) => o.cutter.id))];
  const tried = ids.length <= MOST_TRIED ? permutations(ids) : [ids];
  let best: ReturnType<typeof schedule> | undefined;
  for (const preference of tried) {
    const s = schedule(all, before, preference);
    if (best === undefined || s.changes < best.changes) best = s;
  }
  return (best?.order ?? []).map((i) => all[i]!);
}
