import { exactTour, isSmall } from './exact-tour.js';
import { exchange, exchangeAll } from './exchanges.js';
import { checkEntries, nearestPath, type Search, searchOf } from './search.js';
import { type ChoiceProblem, choicePathCost, type SequencingProblem } from './sequencing-problem.js';

/** A path, its cost, and how many exchanges were looked at for it. */
export interface SequencedTour {
  /** Stops in order; with a choice of entries, the entries that were chosen. */
  readonly path: readonly number[];
  readonly cost: number;
  readonly looked: number;
}

/** An exchange must save more than this share of the path's cost: less is rounding. */
const WORTH = 1e-12;

/** So many shakes without luck, and four a stop, before the search starts elsewhere; now and then it has eight times the patience. */
const STAGNANT = 100;

/** The cheapest entries for the stops in their order: the shortest way through layers (dynamic programming); the cost saved. */
function chooseEntries(s: Search, least: number): number {
  const { n, wide, entries, stopOf, cost, path, waiting } = s;
  if (wide === n) return 0;
  let now = 0;
  for (let k = 0; k + 1 < n; k++) now += cost[path[k]! * wide + path[k + 1]!]!;
  let reached: readonly number[] = [0];
  let layer = entries[stopOf[path[0]!]!]!;
  const froms: Int32Array[] = [];
  for (let k = 1; k < n; k++) {
    const next = entries[stopOf[path[k]!]!]!;
    const from = new Int32Array(next.length);
    reached = next.map((e, y) => {
      let best = Number.POSITIVE_INFINITY;
      for (let x = 0; x < layer.length; x++) {
        const c = reached[x]! + cost[layer[x]! * wide + e]!;
        if (c < best) {
          best = c;
          from[y] = x;
        }
      }
      return best;
    });
    s.looked += layer.length * next.length;
    froms.push(from);
    layer = next;
  }
  const saved = now - reached[0]!;
  if (!(saved > least)) return 0;
  let at = 0;
  for (let k = n - 1; k >= 1; k--) {
    const chosen = entries[stopOf[path[k]!]!]![at]!;
    if (chosen !== path[k]) {
      path[k] = chosen;
      for (const x of [k - 1, k, k + 1]) if (x < n) waiting[path[x]!] = 1;
    }
    at = froms[k - 1]![at]!;
  }
  // A neighbour that changed after it was marked waits under its new name.
  for (let k = 1; k < n; k++) if (waiting[path[k]!] === 1) waiting[path[k - 1]!] = 1;
  return saved;
}

/** Exchanges and choices in turn until neither saves anything; the cost saved. */
function settle(s: Search, least: number): number {
  let saved = exchangeAll(s, least);
  for (;;) {
    const chosen = chooseEntries(s, least);
    if (chosen === 0) return saved;
    saved += chosen + exchangeAll(s, least);
  }
}

/** A random exchange that obeys the precedences, or another entry for a random stop; its cost, or null where the draw gave none. */
function shake(s: Search, random: () => number): number | null {
  const { n, wide, entries, stopOf, cost, closed, path, waiting } = s;
  if (wide > n && random() < 0.3) {
    const k = 1 + Math.floor(random() * (n - 2));
    const list = entries[stopOf[path[k]!]!]!;
    const other = list[Math.floor(random() * list.length)]!;
    const [a, now, b] = [path[k - 1]!, path[k]!, path[k + 1]!];
    path[k] = other;
    for (const e of [a, other, b]) waiting[e] = 1;
    return cost[a * wide + other]! + cost[other * wide + b]! - cost[a * wide + now]! - cost[now * wide + b]!;
  }
  const h = Math.floor(random() * (n - 3));
  const longest = Math.min(n - 3 - h, 30);
  const i = h + 1 + Math.floor(random() * longest);
  const k = Math.min(n - 2, i + 1 + Math.floor(random() * 30));
  if (i >= k) return null;
  for (let x = h + 1; x <= i; x++)
    for (let y = i + 1; y <= k; y++) if (closed[path[x]! * wide + path[y]!] === 1) return null;
  const [a, b, c, d, e, f] = [path[h]!, path[h + 1]!, path[i]!, path[i + 1]!, path[k]!, path[k + 1]!];
  const change =
    cost[a * wide + d]! +
    cost[e * wide + b]! +
    cost[c * wide + f]! -
    cost[a * wide + b]! -
    cost[c * wide + d]! -
    cost[e * wide + f]!;
  exchange(s, h, i, k);
  return change;
}

/** How much a search may do, and where its random numbers come from. */
export interface TourRun {
  /** Exchanges that are looked at, at the most by little. */
  readonly effort: number;
  /** Numbers in [0, 1). */
  readonly random: () => number;
}

/**
 * A short path by search alone: nearest entry first, then exchanges of neighbouring stretches, turned stretches and the best entries
 * for the order, then again and again from a shaken path, keeping what is better and now and then what is little worse.
 */
export function searchTour(problem: ChoiceProblem, run: TourRun): SequencedTour {
  const n = problem.entries.length;
  const s = searchOf(problem);
  const { path } = s;
  path.set(nearestPath(s));
  const start = choicePathCost(problem, path);
  if (run.effort <= 0) return { path: [...path], cost: start, looked: 0 };
  const least = Math.max(1e-9, start * WORTH);
  let now = start - settle(s, least);
  let best = now;
  const bestPath = Int32Array.from(path);
  const kept = Int32Array.from(path);
  let keptCost = now;
  let since = 0;
  let patience = STAGNANT + 4 * n;
  while (s.looked < run.effort && n > 3) {
    s.looked++;
    const times = 1 + Math.floor(run.random() * 3);
    for (let t = 0; t < times; t++) now += shake(s, run.random) ?? 0;
    now -= settle(s, least);
    // Worse ones are kept rarely, less so the worse they are; long without luck, the search goes back to its best.
    const worse = (now - keptCost) / Math.max(1e-9, Math.abs(best));
    since++;
    if (worse <= 0 || run.random() < 0.1 * Math.exp(-worse * 300)) {
      kept.set(path);
      keptCost = now;
    } else {
      path.set(kept);
      now = keptCost;
      s.waiting.fill(0);
    }
    if (now < best - least) {
      best = now;
      bestPath.set(path);
      since = 0;
    } else if (since > patience) {
      // Another valley: from a start drawn anew, or now and then from the best there is.
      path.set(run.random() < 0.3 ? bestPath : nearestPath(s, run.random));
      s.waiting.fill(1);
      now = choicePathCost(problem, path);
      now -= settle(s, least);
      kept.set(path);
      keptCost = now;
      since = 0;
      patience = (STAGNANT + 4 * n) * (run.random() < 0.3 ? 8 : 1);
      if (now < best - least) {
        best = now;
        bestPath.set(path);
      }
    }
  }
  return { path: [...bestPath], cost: choicePathCost(problem, bestPath), looked: s.looked };
}

/**
 * A short path through one entry of each stop that obeys the precedences: the shortest for certain where there are no more than ten
 * stops between the first and the last (and 48 entries); else by search until `effort` exchanges were looked at; with an effort of 0
 * nearest first alone. Deterministic for its numbers.
 * Guarantees: obeys every precedence; never longer than nearest-first.
 * @throws RangeError when stops would come before themselves, an entry is named twice or missing, or there are fewer than two stops.
 */
export function sequenceWithChoice(problem: ChoiceProblem, run: TourRun): SequencedTour {
  if (problem.entries.length < 2) throw new RangeError('sequenceTour: a path needs a first and a last stop');
  checkEntries(problem);
  if (!(run.effort > 0) || !isSmall(problem)) return searchTour(problem, run);
  const { path, looked } = exactTour(problem);
  return { path, cost: choicePathCost(problem, path), looked };
}

/**
 * The same for stops with one entry each: `sequenceWithChoice` with no choice.
 * @throws RangeError when stops would come before themselves, or there are fewer than two.
 */
export function sequenceTour({ count, cost, before }: SequencingProblem, run: TourRun): SequencedTour {
  return sequenceWithChoice({ entries: Array.from({ length: count }, (_, i) => [i]), cost, before }, run);
}
