import { distance, type Point } from '@haunch/geometry';
import type { WorkingstepKind } from '@haunch/model';
import { endOf, type Operation, startOf } from './operation.js';
import { sequenceTour } from './tour/sequence-tour.js';

const PHASE: Readonly<Record<WorkingstepKind, number>> = {
  drilling: 0,
  pocket: 1,
  engraving: 2,
  hole: 3,
  'inside profile': 4,
  'open slot': 5,
  'outside profile': 6,
  trimming: 7,
};

/** Cuts whose areas differ by less than about this factor count as equally large. */
const SIZE_STEP = 1.5;

const sizeOf = (o: Operation): number =>
  o.kind === 'outside profile' || o.kind === 'inside profile'
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

/** Exchanges that are looked at for each stop of a stretch of equal rank, and at most for one stretch. */
const EFFORT_PER_STOP = 20_000;
const MOST_EFFORT = 2_000_000;
/** Longer stretches keep their nearest-first order. */
const LONGEST = 300;

/** The way between operations, without cutting, mm: from the machine's corner to the last. */
const airOf = (path: readonly Operation[]): number => {
  let [at, sum]: [Point, number] = [{ x: 0, y: 0 }, 0];
  for (const o of path) {
    sum += distance(at, startOf(o));
    at = endOf(o);
  }
  return sum;
};

/** A stretch of equal rank in the order with the least way between its operations, from where the cutter stands. */
function shortest(stretch: readonly Operation[], from: Point): readonly Operation[] {
  if (stretch.length < 3 || stretch.length > LONGEST) return stretch;
  const count = stretch.length + 2;
  const cost = new Float64Array(count * count);
  for (let i = 0; i < count - 1; i++)
    for (let j = 1; j < count - 1; j++) {
      const at = i === 0 ? from : endOf(stretch[i - 1]!);
      cost[i * count + j] = distance(at, startOf(stretch[j - 1]!));
    }
  const before = predecessors(stretch).flatMap((list, j) =>
    list.map((i): readonly [number, number] => [i + 1, j + 1]),
  );
  const effort = Math.min(MOST_EFFORT, EFFORT_PER_STOP * stretch.length);
  const { path } = sequenceTour({ count, cost, before }, { effort, random: drawn() });
  return path.slice(1, -1).map((i) => stretch[i - 1]!);
}

/** Numbers in [0, 1) that are the same on every machine: a linear congruence (D. E. Knuth, MMIX's), its upper bits. */
function drawn(): () => number {
  let state = 1n;
  return () => {
    state = BigInt.asUintN(64, state * 6364136223846793005n + 1442695040888963407n);
    return Number(state >> 32n) / 2 ** 32;
  };
}

/** The same order with less air: within every stretch of one cutter, phase and size the shortest tour. */
function withLessAir(order: readonly Operation[]): readonly Operation[] {
  const rank = (o: Operation): string => `${o.cutter.id} ${PHASE[o.kind]} ${sizeOf(o)}`;
  const out: Operation[] = [];
  let at: Point = { x: 0, y: 0 };
  for (let i = 0; i < order.length; ) {
    let end = i + 1;
    while (end < order.length && rank(order[end]!) === rank(order[i]!)) end++;
    out.push(...shortest(order.slice(i, end), at));
    at = endOf(out.at(-1)!);
    i = end;
  }
  return airOf(out) < airOf(order) ? out : order;
}

/**
 * The order of work: all drilling first, then pockets, bored holes, inside profiles small before large, outlines
 * small to large (reference value C11); an item's inside always before its outline, an item inside an opening
 * before that opening; the fewest changes of cutter that this permits; within a group the shortest way between cuts.
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
  return [...withLessAir((best?.order ?? []).map((i) => all[i]!))];
}
