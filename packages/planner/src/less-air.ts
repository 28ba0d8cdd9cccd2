import { distance, type Point } from '@haunch/geometry';
import { doorsOf, type Operation } from './operation.js';
import { sequenceWithChoice } from './tour/sequence-tour.js';

/** An operation in its place, and the door that it is begun by. */
export interface Placed {
  readonly operation: Operation;
  readonly door: number;
}

/** What must not change when the way is shortened. */
export interface OrderRules {
  /** Operations of equal rank may change places. */
  rank(o: Operation): string;
  /** For each of some operations the indices of those that come before it. */
  predecessors(all: readonly Operation[]): readonly (readonly number[])[];
}

/** Longer stretches are shortened piece by piece: the matrix of ways grows with the square. */
const LONGEST = 150;
/** The most exchanges for one piece. */
const MOST_EFFORT = 500_000;

const doorOf = ({ operation, door }: Placed) => doorsOf(operation)[door]!;

/** The way between operations, without cutting, mm: from the machine's corner to the last. */
export function airOf(path: readonly Placed[]): number {
  let [at, sum]: [Point, number] = [{ x: 0, y: 0 }, 0];
  for (const p of path) {
    const { start, end } = doorOf(p);
    sum += distance(at, start);
    at = end;
  }
  return sum;
}

/** A stretch of equal rank in the order and by the doors with the least way, from where the cutter stands to where it goes next. */
function shortest(
  stretch: readonly Placed[],
  from: Point,
  next: Point | undefined,
  effort: number,
  rules: OrderRules,
): readonly Placed[] {
  const stops = stretch.map((p) => doorsOf(p.operation));
  const doors = [{ start: from, end: from }, ...stops.flat(), { start: next ?? from, end: next ?? from }];
  const wide = doors.length;
  let id = 1;
  const entries = [[0], ...stops.map((list) => list.map(() => id++)), [wide - 1]];
  const cost = new Float64Array(wide * wide);
  for (let i = 0; i < wide; i++)
    for (let j = 0; j < wide; j++)
      cost[i * wide + j] =
        j === wide - 1 && next === undefined ? 0 : distance(doors[i]!.end, doors[j]!.start);
  const before = rules
    .predecessors(stretch.map((p) => p.operation))
    .flatMap((list, j) => list.map((i): readonly [number, number] => [i + 1, j + 1]));
  const run = { effort: Math.min(MOST_EFFORT, effort * stretch.length), random: drawn() };
  const { path } = sequenceWithChoice({ entries, cost, before }, run);
  return path.slice(1, -1).map((e) => {
    const stop = entries.findIndex((list) => list.includes(e));
    return { operation: stretch[stop - 1]!.operation, door: entries[stop]!.indexOf(e) };
  });
}

/** Numbers in [0, 1) that are the same on every machine: a linear congruence (D. E. Knuth, MMIX's), its upper bits. */
function drawn(): () => number {
  let state = 1n;
  return () => {
    state = BigInt.asUintN(64, state * 6364136223846793005n + 1442695040888963407n);
    return Number(state >> 32n) / 2 ** 32;
  };
}

/**
 * The same order with less air: within every stretch of equal rank the shortest tour that the rules permit.
 * Guarantees: the way is never longer than before; with an effort of 0 nothing changes.
 */
export function withLessAir(order: readonly Placed[], effort: number, rules: OrderRules): readonly Placed[] {
  if (!(effort > 0)) return order;
  const out: Placed[] = [];
  let at: Point = { x: 0, y: 0 };
  for (let i = 0; i < order.length; ) {
    const rank = rules.rank(order[i]!.operation);
    let end = i + 1;
    while (end < order.length && end - i < LONGEST && rules.rank(order[end]!.operation) === rank) end++;
    const next = order[end] === undefined ? undefined : doorOf(order[end]!).start;
    out.push(...shortest(order.slice(i, end), at, next, effort, rules));
    at = doorOf(out.at(-1)!).end;
    i = end;
  }
  return airOf(out) < airOf(order) ? out : order;
}
