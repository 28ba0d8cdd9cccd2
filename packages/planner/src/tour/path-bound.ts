import { checkEntries } from './search.js';
import { type ChoiceProblem, precedenceClosure } from './sequencing-problem.js';

/** Rounds that the prices are corrected in, unless said otherwise. */
const ROUNDS = 2_000;
/** After so many rounds without a better bound the corrections become smaller, by this share. */
const PATIENCE = 100;
const SMALLER = 0.85;
/** Share of a correction that is the last one's: it swings less. */
const INERTIA = 0.3;

/** Costs between entries of stops that may follow each other, in the cheaper of the directions that the precedences leave; Infinity elsewhere. */
function neighbourCosts({ entries, cost, before }: ChoiceProblem, stopOf: Int32Array): Float64Array {
  const n = entries.length;
  const wide = stopOf.length;
  const closed = precedenceClosure({ count: n, cost, before });
  const follows = new Uint8Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      if (i === j || closed[j * n + i] === 1) continue;
      // Not where a third must come between.
      let free = true;
      if (closed[i * n + j] === 1)
        for (let k = 0; free && k < n; k++) free = closed[i * n + k] === 0 || closed[k * n + j] === 0;
      if (free) follows[i * n + j] = 1;
    }
  const out = new Float64Array(wide * wide).fill(Number.POSITIVE_INFINITY);
  for (let a = 0; a < wide; a++)
    for (let b = 0; b < wide; b++) {
      const [i, j] = [stopOf[a]!, stopOf[b]!];
      const there = follows[i * n + j] === 1 ? cost[a * wide + b]! : Number.POSITIVE_INFINITY;
      const back = follows[j * n + i] === 1 ? cost[b * wide + a]! : Number.POSITIVE_INFINITY;
      out[a * wide + b] = Math.min(there, back);
    }
  return out;
}

/**
 * A cost that no path through one entry of each stop goes below, whatever its order: the cheapest tree that joins all stops, with prices on
 * entries that make it like a path, corrected in counted rounds (M. Held, R. M. Karp, Operations Research 18, 1970; an entry's price is paid back
 * for the dearest of its stop alone). Precedences count as far as they say who may follow whom. Costs must not be negative.
 * Guarantees: never more than the least cost; far below it where stops have entries far apart.
 * @throws RangeError as `sequenceWithChoice` does.
 */
export function choicePathBound(problem: ChoiceProblem, rounds = ROUNDS): number {
  const { entries } = problem;
  const n = entries.length;
  if (n < 2) throw new RangeError('sequenceTour: a path needs a first and a last stop');
  const stopOf = checkEntries(problem);
  const wide = stopOf.length;
  const cost = neighbourCosts(problem, stopOf);
  const price = new Float64Array(wide);
  const last = new Float64Array(wide);
  const slope = new Float64Array(wide);
  const nearest = new Float64Array(n);
  const [inner, outer] = [new Int32Array(n), new Int32Array(n)];
  const joined = new Uint8Array(n);
  let best = 0;
  let step = 0;
  let since = 0;
  for (let round = 0; round < rounds; round++) {
    slope.fill(0);
    joined.fill(0);
    nearest.fill(Number.POSITIVE_INFINITY);
    nearest[0] = 0;
    let bound = 0;
    for (let k = 0; k < n; k++) {
      let next = -1;
      for (let s = 0; s < n; s++) if (joined[s] === 0 && (next < 0 || nearest[s]! < nearest[next]!)) next = s;
      joined[next] = 1;
      bound += nearest[next]!;
      if (k > 0) for (const e of [inner[next]!, outer[next]!]) slope[e] = slope[e]! + 1;
      for (const a of entries[next]!)
        for (let b = 0; b < wide; b++) {
          const s = stopOf[b]!;
          if (joined[s] === 1) continue;
          const c = cost[a * wide + b]! + price[a]! + price[b]!;
          if (c < nearest[s]!) [nearest[s], inner[s], outer[s]] = [c, a, b];
        }
    }
    if (round === 0) step = bound / n;
    entries.forEach((list, s) => {
      const ends = s === 0 || s === n - 1 ? 1 : 2;
      const dearest = list.reduce((a, b) => (price[b]! > price[a]! ? b : a));
      bound -= ends * price[dearest]!;
      slope[dearest] = slope[dearest]! - ends;
    });
    if (bound > best) [best, since] = [bound, 0];
    else if (++since > PATIENCE) [step, since] = [step * SMALLER, 0];
    if (slope.every((v) => v === 0)) break;
    for (let e = 0; e < wide; e++) {
      price[e] = price[e]! + step * ((1 - INERTIA) * slope[e]! + INERTIA * last[e]!);
      last[e] = slope[e]!;
    }
  }
  return best;
}
