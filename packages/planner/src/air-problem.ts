import { distance, type Point } from '@haunch/geometry';
import type { Placed } from './less-air.js';
import { doorsOf, type Operation } from './operation.js';
import { placeOperations, predecessors, rankOf } from './order.js';
import { operationsOf } from './plan-board.js';
import type { PlanInput } from './plan-input.js';
import type { ChoiceProblem } from './tour/sequencing-problem.js';

/** The way between the cuts of a board as a problem, and two answers to it: entries in order. */
export interface AirProblem {
  /** The machine's corner, every cut with the places where it may begin, and an end that costs nothing; costs in mm. */
  readonly problem: ChoiceProblem;
  readonly nearest: readonly number[];
  readonly planned: readonly number[];
}

/** Pairs [i, j] of a group's last and the next one's: every cut of a rank before every cut of the rank that follows. */
function groupPairs(stops: readonly Operation[]): (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = [];
  let before: number[] = [];
  let now: number[] = [];
  stops.forEach((o, i) => {
    if (i > 0 && rankOf(o) !== rankOf(stops[i - 1]!)) [before, now] = [now, []];
    for (const b of before) pairs.push([b, i]);
    now.push(i);
  });
  return pairs;
}

/**
 * The ways between the cuts of a board that `planBoard` takes, as a sequential ordering problem with a choice of entries: ranks one after
 * the other, and within them what must come before what. For comparing orders and for bounds; the board must be one that can be planned.
 */
export function airProblem(input: PlanInput): AirProblem {
  const { operations } = operationsOf(input);
  const [nearest, planned] = [placeOperations(operations, 0), placeOperations(operations, input.effort)];
  const stops = nearest.map((p) => p.operation);
  const corner: Point = { x: 0, y: 0 };
  const doors = [[{ start: corner, end: corner }], ...stops.map((o) => doorsOf(o)), []];
  let id = 0;
  const entries = doors.map((list, i) => (i === doors.length - 1 ? [id++] : list.map(() => id++)));
  const flat = doors.flat();
  const cost = new Float64Array(id * id);
  for (let a = 0; a < flat.length; a++)
    for (let b = 0; b < flat.length; b++) cost[a * id + b] = distance(flat[a]!.end, flat[b]!.start);
  const own = predecessors(stops).flatMap((list, j) => list.map((i) => [i, j] as const));
  const before = [...own, ...groupPairs(stops)].map(([i, j]) => [i + 1, j + 1] as const);
  const numberOf = new Map(stops.map((o, i) => [o, i + 1]));
  const pathOf = (placed: readonly Placed[]): number[] => [
    0,
    ...placed.map((p) => entries[numberOf.get(p.operation)!]![p.door]!),
    id - 1,
  ];
  return { problem: { entries, cost, before }, nearest: pathOf(nearest), planned: pathOf(planned) };
}
