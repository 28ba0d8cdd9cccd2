import { type ChoiceProblem, precedenceClosure } from './sequencing-problem.js';

/** Up to so many stops between the first and the last the shortest path is found for certain. */
const MOST_STOPS = 10;
/** And with no more entries than this: the work grows with their square. */
const MOST_ENTRIES = 48;

const entryCount = ({ entries }: ChoiceProblem): number =>
  entries.reduce((sum, list) => sum + list.length, 0);

/** Whether `exactTour` answers at once. */
export const isSmall = (problem: ChoiceProblem): boolean =>
  problem.entries.length - 2 <= MOST_STOPS && entryCount(problem) <= MOST_ENTRIES;

/**
 * The shortest path for certain: the cheapest way to have done each set of stops and to stand at each of its entries, set by set
 * (dynamic programming over subsets; M. Held, R. M. Karp, J. SIAM 10, 1962). Sets that break a precedence are never reached. Answers
 * with the entries in order, and how many steps from set to set were looked at.
 * @throws RangeError when stops would come before themselves.
 */
export function exactTour(problem: ChoiceProblem): {
  readonly path: readonly number[];
  readonly looked: number;
} {
  const { entries, cost, before } = problem;
  const n = entries.length;
  const wide = entryCount(problem);
  const inner = n - 2;
  const closed = precedenceClosure({ count: n, cost, before });
  const needed = Array.from({ length: inner }, (_, s) => {
    let mask = 0;
    for (let p = 0; p < inner; p++) if (closed[(p + 1) * n + s + 1] === 1) mask |= 1 << p;
    return mask;
  });
  const full = (1 << inner) - 1;
  const reached = new Float64Array((full + 1) * wide).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array((full + 1) * wide).fill(-1);
  const [start, end] = [entries[0]![0]!, entries[n - 1]![0]!];
  reached[start] = 0;
  let looked = 0;
  for (let mask = 0; mask < full; mask++)
    for (let at = 0; at < wide; at++) {
      const sofar = reached[mask * wide + at]!;
      if (sofar === Number.POSITIVE_INFINITY) continue;
      for (let s = 0; s < inner; s++) {
        if ((mask & (1 << s)) !== 0 || (needed[s]! & ~mask) !== 0) continue;
        const next = (mask | (1 << s)) * wide;
        for (const e of entries[s + 1]!) {
          looked++;
          const sum = sofar + cost[at * wide + e]!;
          if (sum < reached[next + e]!) {
            reached[next + e] = sum;
            from[next + e] = at;
          }
        }
      }
    }
  let last = -1;
  let best = Number.POSITIVE_INFINITY;
  for (let at = 0; at < wide; at++) {
    const sum = reached[full * wide + at]! + cost[at * wide + end]!;
    if (last >= 0 && !(sum < best)) continue;
    if (reached[full * wide + at] === Number.POSITIVE_INFINITY) continue;
    last = at;
    best = sum;
  }
  const path = [end];
  const stopOf = new Int32Array(wide);
  entries.forEach((list, s) => {
    for (const e of list) stopOf[e] = s;
  });
  for (let mask = full, at = last; ; ) {
    path.unshift(at);
    if (at === start) break;
    const previous = from[mask * wide + at]!;
    mask &= ~(1 << (stopOf[at]! - 1));
    at = previous;
  }
  return { path, looked };
}
