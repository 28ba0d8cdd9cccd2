import { type Arrangement, copyInto, copyOf } from './arrangement.js';
import { listPair, unlistPair } from './heavy-pairs.js';
import { isOverlapping, movePiece, noteAllOverlaps } from './move-piece.js';
import type { Search } from './search.js';

/** How long a separation goes on. */
export interface Patience {
  /** Rounds without a better sum of overlaps before an attempt ends … */
  readonly rounds: number;
  /** … and attempts, each from the best arrangement so far, before it is given up. */
  readonly attempts: number;
}

/** What came of it. `free` where no overlap is left; the arrangement is the one with the least overlap. */
export interface Separated {
  readonly outcome: 'free' | 'stuck' | 'spent';
  readonly arrangement: Arrangement;
  /** Sum of overlaps that are left, without weights. */
  readonly left: number;
  /** Rounds it took. */
  readonly rounds: number;
}

const GROW_LEAST = 1.2;
const GROW_MOST = 2;
const DECAY = 0.95;
const HEAVIEST = 1e9;
/** A sum of overlaps counts as better when it is less by this share. */
const BETTER = 0.02;

const total = (s: Search): number => {
  const n = s.pieces.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    sum += s.bedOverlaps[i]!;
    if (s.partners[i]! > 0) for (let j = i + 1; j < n; j++) sum += s.overlaps[i * n + j]!;
  }
  return sum;
};

/** The pieces that overlap something, in random order. */
function overlapping(s: Search): number[] {
  const n = s.pieces.length;
  const out: number[] = [];
  for (let i = 0; i < n; i++) if (isOverlapping(s, i)) out.push(i);
  for (let k = out.length - 1; k > 0; k--) {
    const m = Math.floor(s.random() * (k + 1));
    [out[k], out[m]] = [out[m]!, out[k]!];
  }
  return out;
}

/** Makes what overlaps heavier, the more the worse, and what does not lighter (guided local search). */
function reweight(s: Search): void {
  const n = s.pieces.length;
  const { heavy, weights, overlaps } = s;
  let worst = 0;
  for (let i = 0; i < n; i++) {
    worst = Math.max(worst, s.bedOverlaps[i]!);
    if (s.partners[i] === 0) continue;
    for (let j = i + 1; j < n; j++) {
      const bad = overlaps[i * n + j]!;
      if (bad === 0) continue;
      worst = Math.max(worst, bad);
      listPair(heavy, i * n + j);
    }
  }
  if (worst === 0) return;
  const next = (weight: number, bad: number): number =>
    bad > 0
      ? Math.min(HEAVIEST, weight * (GROW_LEAST + (GROW_MOST - GROW_LEAST) * (bad / worst)))
      : Math.max(1, weight * DECAY);
  for (let i = 0; i < n; i++) s.bedWeights[i] = next(s.bedWeights[i]!, s.bedOverlaps[i]!);
  for (let k = heavy.count - 1; k >= 0; k--) {
    const place = heavy.places[k]!;
    const w = next(weights[place]!, overlaps[place]!);
    weights[place] = w;
    weights[(place % n) * n + Math.floor(place / n)] = w;
    if (w === 1) unlistPair(heavy, k);
  }
}

/**
 * Drives the overlaps of the arrangement in hand to exactly zero: every overlapping piece is moved where its
 * weighted overlaps count less, and weights grow where overlap lasts. Each move takes one tick.
 */
export function separate(s: Search, patience: Patience): Separated {
  s.weights.fill(1);
  while (s.heavy.count > 0) unlistPair(s.heavy, s.heavy.count - 1);
  s.bedWeights.fill(1);
  noteAllOverlaps(s);
  const best = copyOf(s.now);
  let least = total(s);
  let rounds = 0;
  for (let attempt = 0; least > 0 && attempt < patience.attempts; attempt++) {
    if (attempt > 0) {
      copyInto(s.now, best);
      noteAllOverlaps(s);
    }
    const begun = least;
    for (let idle = 0; least > 0 && idle < patience.rounds; idle++) {
      rounds++;
      for (const i of overlapping(s)) {
        if (!s.tick()) return { outcome: 'spent', arrangement: best, left: least, rounds };
        if (isOverlapping(s, i)) movePiece(s, i);
      }
      const sum = total(s);
      if (sum < least) {
        if (sum < least * (1 - BETTER)) idle = -1;
        least = sum;
        copyInto(best, s.now);
      }
      reweight(s);
    }
    // An attempt that gained much is worth another.
    if (least < begun * (1 - BETTER)) attempt = Math.min(attempt, 0);
  }
  return { outcome: least === 0 ? 'free' : 'stuck', arrangement: best, left: least, rounds };
}
