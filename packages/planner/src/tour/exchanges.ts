import type { Search } from './search.js';

/** Puts the stretch (h, i] behind the stretch (i, k]. */
export function exchange(s: Search, h: number, i: number, k: number): void {
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
  const { n, wide, cost, after, path, mark } = s;
  const round = ++s.round;
  const best = { gain: 0, i: -1, k: -1 };
  const a = path[h]!;
  const b = path[h + 1]!;
  const ab = cost[a * wide + b]!;
  for (let i = h + 1; i < n - 2; i++) {
    const c = path[i]!;
    const row = c * wide;
    for (const x of after[c]!) mark[x] = round;
    const d = path[i + 1]!;
    if (mark[d] === round) continue;
    const base = ab + cost[row + d]! - cost[a * wide + d]!;
    for (let k = i + 1; k < n - 1; k++) {
      const e = path[k]!;
      if (mark[e] === round) break;
      s.looked++;
      const f = path[k + 1]!;
      const gain = base + cost[e * wide + f]! - cost[e * wide + b]! - cost[row + f]!;
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
  const { wide, cost, before, path, mark } = s;
  const round = ++s.round;
  const best = { gain: 0, h: -1, i: -1 };
  const e = path[k]!;
  const f = path[k + 1]!;
  const ef = cost[e * wide + f]!;
  for (let i = k - 1; i >= 1; i--) {
    const d = path[i + 1]!;
    // Predecessors of what the second stretch has taken in must not be in the first.
    for (const x of before[d]!) mark[x] = round;
    const c = path[i]!;
    if (mark[c] === round) continue;
    const base = ef + cost[c * wide + d]! - cost[c * wide + f]!;
    for (let h = i - 1; h >= 0; h--) {
      const b = path[h + 1]!;
      if (mark[b] === round) break;
      s.looked++;
      const a = path[h]!;
      const gain = base + cost[a * wide + b]! - cost[a * wide + d]! - cost[e * wide + b]!;
      if (gain > best.gain) {
        best.gain = gain;
        best.h = h;
        best.i = i;
      }
    }
  }
  return best;
}

/**
 * The best turning round of a stretch that begins after position h, or ends at position h: worth it where costs are alike both ways
 * and nothing inside must keep its order.
 */
function bestTurn(s: Search, h: number): { gain: number; first: number; last: number } {
  const { n, wide, cost, after, before, path, mark } = s;
  const best = { gain: 0, first: -1, last: -1 };
  const look = (first: number, last: number, turned: number): void => {
    s.looked++;
    const [a, b, e, f] = [path[first - 1]!, path[first]!, path[last]!, path[last + 1]!];
    const gain =
      cost[a * wide + b]! + cost[e * wide + f]! - cost[a * wide + e]! - cost[b * wide + f]! + turned;
    if (gain > best.gain) {
      best.gain = gain;
      best.first = first;
      best.last = last;
    }
  };
  let round = ++s.round;
  let turned = 0;
  for (let k = h + 1; k < n - 1 && h >= 0; k++) {
    const stop = path[k]!;
    if (mark[stop] === round) break;
    for (const x of after[stop]!) mark[x] = round;
    if (k === h + 1) continue;
    const before = path[k - 1]!;
    turned += cost[before * wide + stop]! - cost[stop * wide + before]!;
    look(h + 1, k, turned);
  }
  round = ++s.round;
  turned = 0;
  for (let k = h; k >= 1 && h < n - 1; k--) {
    const stop = path[k]!;
    if (mark[stop] === round) break;
    for (const x of before[stop]!) mark[x] = round;
    if (k === h) continue;
    const after = path[k + 1]!;
    turned += cost[stop * wide + after]! - cost[after * wide + stop]!;
    look(k, h, turned);
  }
  return best;
}

/** Turns the stretch [first, last] round. */
function turnRound(s: Search, first: number, last: number): void {
  const { path, waiting } = s;
  for (let x = first, y = last; x < y; x++, y--) {
    const stop = path[x]!;
    path[x] = path[y]!;
    path[y] = stop;
  }
  for (const x of [first - 1, first, last, last + 1]) waiting[path[x]!] = 1;
}

/** Exchanges and turns stretches until none that is waiting saves anything; the cost saved. */
export function exchangeAll(s: Search, least: number): number {
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
          continue;
        }
      }
      const { gain, first, last } = bestTurn(s, h);
      if (gain > least) {
        turnRound(s, first, last);
        saved += gain;
        again = true;
      }
    }
  }
  return saved;
}
