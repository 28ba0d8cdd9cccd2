import { pathCost, precedenceClosure, type SequencingProblem } from './sequencing-problem.js';

/** A path, its cost, and how many exchanges were looked at for it. */
export interface SequencedTour {
  readonly path: readonly number[];
  readonly cost: number;
  readonly looked: number;
}

/** An exchange must save more than this share of the path's cost: less is rounding. */
const WORTH = 1e-12;

/** Added to costs when a start is drawn, so that those of nothing are drawn apart too. */
const SPREAD_FROM = 1e-6;

/** So many shakes without luck, and four a stop, before the search starts elsewhere; now and then it has eight times the patience. */
const STAGNANT = 100;

/** The state of a search: the path, where each stop stands in it, and which stops are still to be looked at. */
interface Search {
  readonly n: number;
  readonly cost: Float64Array;
  readonly closed: Uint8Array;
  readonly path: Int32Array;
  readonly waiting: Uint8Array;
  /** Marks of stops that must stay behind; a stop is marked when its entry equals the round. */
  readonly mark: Int32Array;
  round: number;
  looked: number;
  readonly spare: Int32Array;
}

/**
 * Nearest stop first among those whose predecessors are done; with `random` a stop counts as up to that many times as far as
 * it is, so that every draw gives another start.
 */
function nearestPath(
  { count, cost }: SequencingProblem,
  closed: Uint8Array,
  random: (() => number) | null = null,
): Int32Array {
  const path = new Int32Array(count);
  const done = new Uint8Array(count);
  const open = new Int32Array(count);
  for (let i = 0; i < count; i++) for (let j = 0; j < count; j++) open[j]! += closed[i * count + j]!;
  let at = 0;
  for (let k = 0; k < count; k++) {
    let next = -1;
    let nearest = Number.POSITIVE_INFINITY;
    for (let j = 0; j < count; j++) {
      if (done[j] !== 0 || open[j] !== 0) continue;
      const far = k === 0 ? 0 : (cost[at * count + j]! + SPREAD_FROM) * (random ? 1 + 3 * random() : 1);
      if (next >= 0 && far >= nearest) continue;
      next = j;
      nearest = far;
    }
    path[k] = next;
    done[next] = 1;
    for (let j = 0; j < count; j++) if (closed[next * count + j] === 1) open[j]!--;
    at = next;
  }
  return path;
}

/** Puts the stretch (h, i] behind the stretch (i, k]. */
function exchange(s: Search, h: number, i: number, k: number): void {
  const { path, spare, waiting } = s;
  const first = i - h;
  for (let x = 0; x < first; x++) spare[x] = path[h + 1 + x]!;
  for (let x = i + 1; x <= k; x++) path[x - first] = path[x]!;
  for (let x = 0; x < first; x++) path[k - first + 1 + x] = spare[x]!;
  // The six stops whose neighbours changed are looked at again.
  for (const x of [h, h + 1, k - first, k - first + 1, k, k + 1]) waiting[path[x]!] = 1;
}

/**
 * The best exchange of two neighbouring stretches where the first begins after position h, or ends there (`back`): stretches keep
 * their direction, so costs may differ by direction; while the first grows its stops' successors are marked, and the second ends where it
 * would take one along (lexicographic search; L. M. Gambardella, M. Dorigo, INFORMS J. Comput. 12, 2000).
 */
function bestForward(s: Search, h: number): { gain: number; i: number; k: number } {
  const { n, cost, closed, path, mark } = s;
  const round = ++s.round;
  const best = { gain: 0, i: -1, k: -1 };
  const a = path[h]!;
  const b = path[h + 1]!;
  const ab = cost[a * n + b]!;
  for (let i = h + 1; i < n - 2; i++) {
    const c = path[i]!;
    const row = c * n;
    for (let j = i + 1; j < n - 1; j++) if (closed[row + path[j]!] === 1) mark[path[j]!] = round;
    const d = path[i + 1]!;
    if (mark[d] === round) continue;
    const base = ab + cost[row + d]! - cost[a * n + d]!;
    for (let k = i + 1; k < n - 1; k++) {
      const e = path[k]!;
      if (mark[e] === round) break;
      s.looked++;
      const f = path[k + 1]!;
      const gain = base + cost[e * n + f]! - cost[e * n + b]! - cost[row + f]!;
      if (gain > best.gain) {
        best.gain = gain;
        best.i = i;
        best.k = k;
      }
    }
  }
  return best;
}

/** The same seen from behind: the second stretch ends at position k. */
function bestBackward(s: Search, k: number): { gain: number; h: number; i: number } {
  const { n, cost, closed, path, mark } = s;
  const round = ++s.round;
  const best = { gain: 0, h: -1, i: -1 };
  const e = path[k]!;
  const f = path[k + 1]!;
  const ef = cost[e * n + f]!;
  for (let i = k - 1; i >= 1; i--) {
    const d = path[i + 1]!;
    // Predecessors of what the second stretch has taken in must not be in the first.
    for (let j = 1; j <= i; j++) if (closed[path[j]! * n + d] === 1) mark[path[j]!] = round;
    const c = path[i]!;
    if (mark[c] === round) continue;
    const base = ef + cost[c * n + d]! - cost[c * n + f]!;
    for (let h = i - 1; h >= 0; h--) {
      const b = path[h + 1]!;
      if (mark[b] === round) break;
      s.looked++;
      const a = path[h]!;
      const gain = base + cost[a * n + b]! - cost[a * n + d]! - cost[e * n + b]!;
      if (gain > best.gain) {
        best.gain = gain;
        best.h = h;
        best.i = i;
      }
    }
  }
  return best;
}

/** Exchanges stretches until none that is waiting saves anything; the cost saved. */
function settle(s: Search, least: number): number {
  const { n, path, waiting } = s;
  let saved = 0;
  for (let again = true; again; ) {
    again = false;
    for (let h = 0; h < n - 1; h++) {
      const stop = path[h]!;
      if (waiting[stop] === 0) continue;
      waiting[stop] = 0;
      if (h < n - 3) {
        const { gain, i, k } = bestForward(s, h);
        if (gain > least) {
          exchange(s, h, i, k);
          saved += gain;
          again = true;
          continue;
        }
      }
      if (h > 1 && h < n - 1) {
        const { gain, h: from, i } = bestBackward(s, h);
        if (gain > least) {
          exchange(s, from, i, h);
          saved += gain;
          again = true;
        }
      }
    }
  }
  return saved;
}

/** A random exchange that obeys the precedences; its cost, or null where the draw gave none. */
function shake(s: Search, random: () => number): number | null {
  const { n, cost, closed, path } = s;
  const h = Math.floor(random() * (n - 3));
  const longest = Math.min(n - 3 - h, 30);
  const i = h + 1 + Math.floor(random() * longest);
  const k = Math.min(n - 2, i + 1 + Math.floor(random() * 30));
  if (i >= k) return null;
  for (let x = h + 1; x <= i; x++)
    for (let y = i + 1; y <= k; y++) if (closed[path[x]! * n + path[y]!] === 1) return null;
  const [a, b, c, d, e, f] = [path[h]!, path[h + 1]!, path[i]!, path[i + 1]!, path[k]!, path[k + 1]!];
  const change =
    cost[a * n + d]! +
    cost[e * n + b]! +
    cost[c * n + f]! -
    cost[a * n + b]! -
    cost[c * n + d]! -
    cost[e * n + f]!;
  exchange(s, h, i, k);
  return change;
}

/**
 * A short path that obeys the precedences: nearest stop first, then exchanges of neighbouring stretches, then again and again
 * from a shaken path, keeping what is better and now and then what is little worse, until `effort` exchanges were looked at. `random`
 * answers numbers in [0, 1). Deterministic for its numbers.
 * Guarantees: obeys every precedence; never longer than nearest-first.
 * @throws RangeError when stops would come before themselves, or there are fewer than two.
 */
export function sequenceTour(
  problem: SequencingProblem,
  run: { readonly effort: number; readonly random: () => number },
): SequencedTour {
  const { count: n, cost } = problem;
  if (n < 2) throw new RangeError('sequenceTour: a path needs a first and a last stop');
  const closed = precedenceClosure(problem);
  const path = nearestPath(problem, closed);
  const s: Search = {
    n,
    cost,
    closed,
    path,
    waiting: new Uint8Array(n).fill(1),
    mark: new Int32Array(n),
    round: 0,
    looked: 0,
    spare: new Int32Array(n),
  };
  const start = pathCost(problem, path);
  const least = Math.max(1e-9, start * WORTH);
  let now = start - settle(s, least);
  let best = now;
  const bestPath = Int32Array.from(path);
  const kept = Int32Array.from(path);
  let keptCost = now;
  let since = 0;
  let patience = STAGNANT + 4 * n;
  while (s.looked < run.effort && n > 4) {
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
      path.set(run.random() < 0.3 ? bestPath : nearestPath(problem, closed, run.random));
      s.waiting.fill(1);
      now = pathCost(problem, path);
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
  return { path: [...bestPath], cost: pathCost(problem, bestPath), looked: s.looked };
}
