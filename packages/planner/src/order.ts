import { distance, type Point } from '@haunch/geometry';
import type { WorkingstepKind } from '@haunch/model';
import { type Placed, withLessAir } from './less-air.js';
import { doorsOf, type Operation, through } from './operation.js';

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

/** Cuts through skins come after everything else. */
const LAST = 8;

const phaseOf = (o: Operation): number => (o.frees ? LAST : PHASE[o.kind]);

const sizeOf = (o: Operation): number =>
  o.kind === 'outside profile' || o.kind === 'inside profile'
    ? Math.round(Math.log(Math.max(o.area, 1)) / Math.log(SIZE_STEP))
    : 0;

/** For each operation the indices of those that must come before it. */
export function predecessors(all: readonly Operation[]): number[][] {
  const ofItem = new Map<string, number[]>();
  const frees: number[] = [];
  const others: number[] = [];
  all.forEach((o, i) => {
    ofItem.set(o.item, [...(ofItem.get(o.item) ?? []), i]);
    (o.frees ? frees : others).push(i);
  });
  // Freed last, the smallest first.
  const smaller = (j: number, i: number): boolean =>
    all[j]!.area < all[i]!.area || (all[j]!.area === all[i]!.area && j < i);
  return all.map((o, i) => {
    // Off-cuts are freed when all else is done but what skins hold.
    if (o.kind === 'trimming') return others.filter((j) => all[j]!.kind !== 'trimming');
    if (o.frees) return [...others, ...frees.filter((j) => j !== i && smaller(j, i))].sort((a, b) => a - b);
    const own = o.kind === 'outside profile' ? (ofItem.get(o.item) ?? []) : [];
    const inside = own.filter((j) => all[j]!.kind !== 'outside profile');
    const enclosed = o.encloses.flatMap((item) => ofItem.get(item) ?? []);
    const before = [...inside, ...enclosed].filter((j) => j !== i && !all[j]!.frees);
    return [...new Set(before)].sort((a, b) => a - b);
  });
}

/** An operation in its place, and the door that it is begun by. */
interface Step {
  readonly i: number;
  readonly door: number;
}

/** Where an operation may begin and end, and its place among the others. */
interface Ready {
  readonly i: number;
  readonly cutter: string;
  readonly phase: number;
  readonly size: number;
  readonly doors: ReturnType<typeof doorsOf>;
}

/** An operation that might come next, the door it would be begun by, and how far that is, mm. */
interface Choice {
  readonly of: Ready;
  readonly door: number;
  readonly air: number;
}

/** Whether an operation's rank comes before another's; undefined where they are of equal rank. */
const isEarlier = (a: Ready, b: Ready): boolean | undefined => {
  const by = a.phase - b.phase || a.size - b.size;
  return by === 0 ? undefined : by < 0;
};

const isNearer = (a: Choice, b: Choice): boolean => a.air < b.air || (a.air === b.air && a.of.i < b.of.i);

/** Cutters in this order of preference, staying with one as long as it has something that may be cut. */
function schedule(
  all: readonly Ready[],
  before: readonly (readonly number[])[],
  drilled: ReadonlySet<number>,
  preference: readonly string[],
): { readonly order: readonly Step[]; readonly changes: number } {
  const order: Step[] = [];
  let at: Point = { x: 0, y: 0 };
  let cutter: string | undefined;
  let changes = 0;
  const after: number[][] = all.map(() => []);
  before.forEach((list, i) => {
    for (const j of list) after[j]!.push(i);
  });
  const waitsFor = before.map((list) => list.length);
  let undrilled = drilled.size;
  // All drilling comes first: what else is free waits.
  const free = new Set(all.flatMap(({ i }) => (waitsFor[i] === 0 ? [i] : [])));
  while (order.length < all.length) {
    const ready: Ready[] = [];
    let first: Ready | undefined;
    for (const i of free) {
      if (undrilled > 0 && !drilled.has(i)) continue;
      const o = all[i]!;
      ready.push(o);
      const [a, b] = [preference.indexOf(o.cutter), first && preference.indexOf(first.cutter)];
      if (b === undefined || a < b || (a === b && i < first!.i)) first = o;
    }
    if (first === undefined) throw new RangeError('schedule: parts enclose each other');
    if (!ready.some((o) => o.cutter === cutter)) {
      cutter = first.cutter;
      changes++;
    }
    let next: Choice | undefined;
    for (const o of ready)
      if (o.cutter === cutter && (next === undefined || isEarlier(o, next.of) !== false))
        o.doors.forEach(({ start }, door) => {
          const c: Choice = { of: o, door, air: distance(at, start) };
          if (next === undefined || (isEarlier(o, next.of) ?? isNearer(c, next))) next = c;
        });
    const { door } = next!;
    const { i } = next!.of;
    free.delete(i);
    if (drilled.has(i)) undrilled--;
    for (const j of after[i]!) if (--waitsFor[j]! === 0) free.add(j);
    order.push({ i, door });
    at = all[i]!.doors[door]!.end;
  }
  return { order, changes };
}

const permutations = (ids: readonly string[]): string[][] =>
  ids.length <= 1
    ? [[...ids]]
    : ids.flatMap((id) => permutations(ids.filter((other) => other !== id)).map((rest) => [id, ...rest]));

/** With more cutters than this only the given order is tried. */
const MOST_TRIED = 5;
/** Exchanges that are looked at for each operation. */
const EFFORT = 5_000;

/**
 * The order of work: all drilling first, then pockets, bored holes, inside profiles small before large, outlines
 * small to large (reference value C11); an item's inside always before its outline, an item inside an opening
 * before that opening; the fewest changes of cutter that this permits; within a group the shortest way between cuts, by a search of `effort` exchanges for each operation; with an effort of 0 the
 * nearest comes next. Of an operation's ways the one is taken that is nearest.
 * Guarantees a total order: the same operations give the same sequence.
 */
export function orderOperations(all: readonly Operation[], effort = EFFORT): Operation[] {
  return placeOperations(all, effort).map((s) => through(s.operation, s.door));
}

/** Operations of equal rank may change places in the order of work as far as `predecessors` says nothing else. */
export const rankOf = (o: Operation): string => `${o.cutter.id} ${phaseOf(o)} ${sizeOf(o)}`;

/** The same order, with the door that each operation is begun by. */
export function placeOperations(all: readonly Operation[], effort = EFFORT): readonly Placed[] {
  const before = predecessors(all);
  const ids = [...new Set(all.map((o) => o.cutter.id))];
  const tried = ids.length <= MOST_TRIED ? permutations(ids) : [ids];
  const known = all.map((o, i) => ({
    i,
    cutter: o.cutter.id,
    phase: phaseOf(o),
    size: sizeOf(o),
    doors: doorsOf(o),
  }));
  const drilled = new Set(all.flatMap((o, i) => (o.kind === 'drilling' ? [i] : [])));
  let best: ReturnType<typeof schedule> | undefined;
  for (const preference of tried) {
    const s = schedule(known, before, drilled, preference);
    if (best === undefined || s.changes < best.changes) best = s;
  }
  const naive = (best?.order ?? []).map(({ i, door }) => ({ operation: all[i]!, door }));
  return withLessAir(naive, effort, { rank: rankOf, predecessors });
}
