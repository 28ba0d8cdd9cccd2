import { type ChoiceProblem, precedenceClosure } from './sequencing-problem.js';

/** Added to costs when a start is drawn, so that those of nothing are drawn apart too. */
const SPREAD_FROM = 1e-6;

/** The share of starts that are drawn with hardly a look at the costs. */
const WILD = 0.2;
/** The state of a search: the path of entries, one of each stop, and which of them are still to be looked at. */
export interface Search {
  /** Stops on the path. */
  readonly n: number;
  /** Entries of all stops together: the width of the cost matrix. */
  readonly wide: number;
  /** The entries of each stop, and the stop of each entry. */
  readonly entries: readonly (readonly number[])[];
  readonly stopOf: Int32Array;
  readonly cost: Float64Array;
  /** Precedences, entry by entry. */
  readonly closed: Uint8Array;
  /** Entry by entry the entries of stops that must come after it, and before it; without the first and the last stop. */
  readonly after: readonly Int32Array[];
  readonly before: readonly Int32Array[];
  readonly path: Int32Array;
  readonly waiting: Uint8Array;
  /** Marks of stops that must stay behind; a stop is marked when its entry equals the round. */
  readonly mark: Int32Array;
  round: number;
  looked: number;
  readonly spare: Int32Array;
}

/**
 * Nearest entry first among those of stops whose predecessors are done; with `random` an entry counts as up to four times as far as
 * it is, or now and then any number of times, so that every draw gives another start.
 */
export function nearestPath(s: Search, random: (() => number) | null = null): Int32Array {
  const { n, wide, entries, stopOf, cost, closed } = s;
  const path = new Int32Array(n);
  const done = new Uint8Array(n);
  const open = new Int32Array(n);
  const firsts = entries.map((list) => list[0]!);
  for (const i of firsts) for (let j = 0; j < n; j++) open[j]! += closed[i * wide + firsts[j]!]!;
  let at = firsts[0]!;
  const spread = random && random() < WILD ? 1e6 : 3;
  for (let k = 0; k < n; k++) {
    let next = -1;
    let nearest = Number.POSITIVE_INFINITY;
    for (let e = 0; e < wide; e++) {
      const stop = stopOf[e]!;
      if (done[stop] !== 0 || open[stop] !== 0) continue;
      const far = k === 0 ? 0 : (cost[at * wide + e]! + SPREAD_FROM) * (random ? 1 + spread * random() : 1);
      if (next >= 0 && far >= nearest) continue;
      next = e;
      nearest = far;
    }
    path[k] = next;
    done[stopOf[next]!] = 1;
    for (let j = 0; j < n; j++) if (closed[next * wide + firsts[j]!] === 1) open[j]!--;
    at = next;
  }
  return path;
}

/** @throws RangeError when an entry is named twice or missing, or the first or the last stop has a choice. */
export function checkEntries({ entries }: ChoiceProblem): Int32Array {
  const n = entries.length;
  const wide = entries.reduce((sum, list) => sum + list.length, 0);
  const stopOf = new Int32Array(wide).fill(-1);
  entries.forEach((list, stop) => {
    for (const e of list) {
      if (!(e >= 0 && e < wide) || stopOf[e] !== -1)
        throw new RangeError(`sequenceTour: entry ${e} of stop ${stop} is not one of 0 to ${wide - 1}, once`);
      stopOf[e] = stop;
    }
    if (list.length === 0) throw new RangeError(`sequenceTour: stop ${stop} has no entry`);
  });
  if (entries[0]?.length !== 1 || entries[n - 1]?.length !== 1)
    throw new RangeError('sequenceTour: the first and the last stop have one entry each');
  return stopOf;
}

export function searchOf({ entries, cost, before }: ChoiceProblem): Search {
  const n = entries.length;
  const stopOf = checkEntries({ entries, cost, before });
  const wide = stopOf.length;
  const stops = precedenceClosure({ count: n, cost, before });
  const closed = new Uint8Array(wide * wide);
  for (let i = 0; i < wide; i++)
    for (let j = 0; j < wide; j++) closed[i * wide + j] = stops[stopOf[i]! * n + stopOf[j]!]!;
  const inner = (e: number): boolean => stopOf[e]! > 0 && stopOf[e]! < n - 1;
  const all = Array.from({ length: wide }, (_, e) => e);
  const after = all.map((i) => Int32Array.from(all.filter((j) => inner(j) && closed[i * wide + j] === 1)));
  const earlier = all.map((i) => Int32Array.from(all.filter((j) => inner(j) && closed[j * wide + i] === 1)));
  return {
    n,
    wide,
    after,
    before: earlier,
    entries,
    stopOf,
    cost,
    closed,
    path: new Int32Array(n),
    waiting: new Uint8Array(wide).fill(1),
    mark: new Int32Array(wide),
    round: 0,
    looked: 0,
    spare: new Int32Array(n),
  };
}
