import { distance, type Point } from '@haunch/geometry';
import type { WorkingstepKind } from '@haunch/model';
import { withLessAir } from './less-air.js';
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
function predecessors(all: readonly Operation[]): number[][] {
  return all.map((o, i) =>
    all.flatMap((p, j) => {
      if (i === j) return [];
      // Freed last, the smallest first.
      if (p.frees) return o.frees && (p.area < o.area || (p.area === o.area && j < i)) ? [j] : [];
      if (o.frees) return [j];
      const ownInside = o.kind === 'outside profile' && p.item === o.item && p.kind !== 'outside profile';
      return ownInside || o.encloses.includes(p.item) ? [j] : [];
    }),
  );
}

/** An operation in its place, and the door that it is begun by. */
interface Step {
  readonly i: number;
  readonly door: number;
}

/** The door that is nearest, and how far it is, mm. */
const nearestDoor = (at: Point, o: Operation): { readonly door: number; readonly air: number } =>
  doorsOf(o)
    .map(({ start }, door) => ({ door, air: distance(at, start) }))
    .reduce((a, b) => (b.air < a.air ? b : a));

/** Cutters in this order of preference, staying with one as long as it has something that may be cut. */
function schedule(
  all: readonly Operation[],
  before: readonly (readonly number[])[],
  preference: readonly string[],
): { readonly order: readonly Step[]; readonly changes: number } {
  const done = new Set<number>();
  const order: Step[] = [];
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
        const { door, air } = nearestDoor(at, all[i]!);
        return { i, door, key: [phaseOf(all[i]!), sizeOf(all[i]!), air, i] };
      });
    const next = keyed.reduce((a, b) => {
      const k = a.key.findIndex((v, n) => v !== b.key[n]);
      return b.key[k]! < a.key[k]! ? b : a;
    });
    done.add(next.i);
    undrilled.delete(next.i);
    order.push(next);
    at = doorsOf(all[next.i]!)[next.door]!.end;
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
  const before = predecessors(all);
  const ids = [...new Set(all.map((o) => o.cutter.id))];
  const tried = ids.length <= MOST_TRIED ? permutations(ids) : [ids];
  let best: ReturnType<typeof schedule> | undefined;
  for (const preference of tried) {
    const s = schedule(all, before, preference);
    if (best === undefined || s.changes < best.changes) best = s;
  }
  const naive = (best?.order ?? []).map(({ i, door }) => ({ operation: all[i]!, door }));
  const rank = (o: Operation): string => `${o.cutter.id} ${phaseOf(o)} ${sizeOf(o)}`;
  return withLessAir(naive, effort, { rank, predecessors }).map((s) => through(s.operation, s.door));
}
