import type { DryRun } from '../dryfit/dry-run.js';
import type { Frame } from '../frame.js';
import type { Piece } from './piece.js';
import type { Plate } from './plate-layers.js';
import { isJoint, type PoseBook, worth } from './pose-book.js';
import type { Standing } from './standing-plate.js';
import { type Candidate, supported } from './supported.js';
import { inSweep } from './sweep.js';

/** How many unfinished pieces are kept at each step, and how many ways each may grow. */
const KEPT = 24;
const GROWN = 8;

/** How much less may speak for a place that is still tried. */
const NEAR = 0.6;

/** The least that must speak for a plate's place: one end that meets between two faces that bear. */
const LEAST = 2;

/** How many of the best places are held against each other at each step. */
const COMPARED = 400;
const SAMPLED = 48;

/** How much more must speak for a place for each other that is as good and excludes it. */
const DOUBT = 1.5;

/** What share of what holds up a place must hold up another that is as good. */
const AS_WELL = 0.9;

/** How many plates a family must have on average for open places to be asked what they would hold. */
const ALIKE = 2;

const ORIGIN: Frame = { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] };

interface State extends Piece {
  /** Best first. */
  readonly candidates: readonly Candidate[];
  readonly key: string;
  /** The score with the best places that are open now. */
  readonly promise: number;
}

const byScore = (a: { score: number }, b: { score: number }): number => b.score - a.score;
const byPlace = (a: Candidate, b: Candidate): number => b.score - a.score || a.standing.id - b.standing.id;

/** The plates of each family that do not stand yet, least index first. */
function leftOf(plates: readonly Plate[], standing: ReadonlyMap<number, Standing>): Map<number, number[]> {
  const left = new Map<number, number[]>();
  plates.forEach((plate, q) => {
    if (standing.has(q)) return;
    const mine = left.get(plate.family);
    if (mine === undefined) left.set(plate.family, [q]);
    else mine.push(q);
  });
  return left;
}

/** What is asked of the places that are open: how many plates of each family are left, and how many could be placed at all. */
interface Open {
  readonly left: ReadonlyMap<number, readonly number[]>;
  readonly most: number;
}

/** How many plates there could be taken at the most, of families that have places. */
function openIn(candidates: readonly Candidate[], left: Open['left']): Open {
  const places = new Map<number, number>();
  for (const { standing } of candidates)
    places.set(standing.plate.family, (places.get(standing.plate.family) ?? 0) + 1);
  let most = 0;
  for (const [family, { length }] of left) most += Math.min(length, places.get(family) ?? 0);
  return { left, most };
}

/**
 * What the best places that do not exclude each other add, of as good ones those first that a sweep along an axis meets first.
 * The places are given best first; only as many of them are put in order as are looked at.
 */
function sumOf(
  candidates: readonly Candidate[],
  axis: 0 | 1 | 2,
  { left, most }: Open,
  book: PoseBook,
): number {
  const count = new Map<number, number>();
  const taken: Standing[] = [];
  let sum = 0;
  for (let from = 0; from < candidates.length && taken.length < most; ) {
    const { score } = candidates[from]!;
    let to = from + 1;
    while (to < candidates.length && candidates[to]!.score === score) to++;
    const group = candidates.slice(from, to);
    if (group.length > 1)
      group.sort((a, b) => inSweep(a.standing, b.standing, axis) || a.standing.id - b.standing.id);
    from = to;
    for (const { standing: s } of group) {
      if (taken.length === most) break;
      const family = s.plate.family;
      const already = count.get(family) ?? 0;
      if (already >= (left.get(family)?.length ?? 0)) continue;
      if (taken.some((o) => book.meeting(o, s) === null)) continue;
      taken.push(s);
      count.set(family, already + 1);
      sum += score;
    }
  }
  for (const [family, { length }] of left) sum += (length - (count.get(family) ?? 0)) * book.mostOf(family);
  return sum;
}

/**
 * What the plates that are left would add: the best open places that do not exclude each other, and one joint for each
 * plate that has none yet. Places, given best first, are taken in a sweep along each axis, since in a row of places of which
 * each excludes the next a sweep finds the most that go together.
 */
function promiseOf(
  candidates: readonly Candidate[],
  left: ReadonlyMap<number, readonly number[]>,
  book: PoseBook,
): number {
  const open = openIn(candidates, left);
  let most = 0;
  for (const axis of [0, 1, 2] as const) most = Math.max(most, sumOf(candidates, axis, open, book));
  return most;
}

function grow(state: State, plate: number, c: Candidate, plates: readonly Plate[], book: PoseBook): State {
  const standing = new Map(state.standing).set(plate, c.standing);
  const left = leftOf(plates, standing);
  const candidates: Candidate[] = [];
  const seen = new Set<number>();
  for (const o of state.candidates) {
    seen.add(o.standing.id);
    if (!left.has(o.standing.plate.family)) continue;
    const met = book.meeting(c.standing, o.standing);
    if (met === null) continue;
    candidates.push(
      met.ends === 0 && met.bearings === 0 ? o : { standing: o.standing, score: o.score + worth(met) },
    );
  }
  for (const [q] of left.values())
    for (const s of book.around(c.standing, plates[q!]!)) {
      if (seen.has(s.id)) continue;
      seen.add(s.id);
      let score = 0;
      let free = true;
      for (const o of standing.values()) {
        const met = book.meeting(o, s);
        if (met === null) {
          free = false;
          break;
        }
        score += worth(met);
      }
      if (free) candidates.push({ standing: s, score });
    }
  candidates.sort(byPlace);
  return {
    standing,
    candidates,
    promise: state.score + c.score + promiseOf(candidates, left, book),
    score: state.score + c.score,
    key: book.keyOf([...standing.values()]),
  };
}

/**
 * The places to try next: one and those that exclude it while as much speaks for them, since the order of places that
 * do not exclude each other is all the same. The one taken has much speaking for it and few against; where each has
 * some against it, a place that several open ones would hold together is taken if it has fewer.
 */
function growths(state: State, plates: readonly Plate[], book: PoseBook, ahead: boolean): Candidate[] {
  const left = leftOf(plates, state.standing);
  const top = state.candidates.slice(0, COMPARED).filter((c) => c.score >= LEAST);
  const best = clearest(top, (c) => c.score - NEAR, left, book);
  const open = [...left.values()].reduce((n, q) => n + q.length, 0);
  if (!ahead || best.length < 2 || open < ALIKE * left.size) return best;
  const next = supported(top, [...state.standing.values()], left, plates, book);
  const other = clearest(next, (c) => c.score * AS_WELL, left, book);
  return other.length > 0 && other.length < best.length ? other.map((c) => ({ ...c, score: 0 })) : best;
}

function clearest(
  top: readonly Candidate[],
  least: (c: Candidate) => number,
  left: ReadonlyMap<number, readonly number[]>,
  book: PoseBook,
): Candidate[] {
  let best: Candidate[] = [];
  let bestValue = -Infinity;
  const overbooked = new Map<number, boolean>();
  for (const c of top.slice(0, SAMPLED)) {
    if (c.score <= bestValue) break;
    const near = top.filter((o) => o.score >= least(c));
    const family = c.standing.plate.family;
    const sisters = near.filter((o) => o.standing.plate.family === family);
    let crowded = overbooked.get(family);
    if (crowded === undefined) {
      const apart: Candidate[] = [];
      for (const o of sisters)
        if (apart.every((a) => book.meeting(a.standing, o.standing) !== null)) apart.push(o);
      crowded = apart.length > left.get(family)!.length;
      overbooked.set(family, crowded);
    }
    const rivals = near.filter(
      (o) =>
        o !== c &&
        ((crowded && o.standing.plate.family === family) || book.meeting(c.standing, o.standing) === null),
    );
    const value = c.score - DOUBT * rivals.length;
    if (value > bestValue) {
      bestValue = value;
      best = [c, ...rivals.slice(0, GROWN - 1)];
    }
  }
  return best;
}

/** The piece without the plates that no joints lead to from the plate `first`. */
function joined(state: State, first: number, book: PoseBook): State {
  const standing = new Map([[first, state.standing.get(first)!]]);
  for (const [, s] of standing)
    for (const [q, o] of state.standing) {
      if (standing.has(q)) continue;
      const met = book.meeting(s, o);
      if (met !== null && isJoint(met)) standing.set(q, o);
    }
  return standing.size === state.standing.size ? state : { ...state, standing };
}

/**
 * The best pieces that hold the plate `first`, best first: grown plate by plate, a handful side by side. Bounded:
 * at most 24 × 8 growths per plate. Where plates have many alike, `ahead` sets plates that open places would hold
 * before those places are decided. Stops early with what it has when `run` says so; then `stopped` is true.
 */
export function assemble(
  plates: readonly Plate[],
  first: number,
  book: PoseBook,
  ahead: boolean,
  run?: DryRun,
): { readonly pieces: readonly Piece[]; readonly stopped: boolean } {
  const nothing: State = { standing: new Map(), candidates: [], score: 0, promise: 0, key: '' };
  book.begin(plates[first]!);
  const start: Candidate = { standing: book.place(plates[first]!, ORIGIN), score: 0 };
  let states: State[] = [grow(nothing, first, start, plates, book)];
  const done: State[] = [];
  while (states.length > 0) {
    const next = new Map<string, State>();
    for (const s of states) {
      if (run?.tick() === false) return { pieces: [...done, ...states].sort(byScore), stopped: true };
      const ways = growths(s, plates, book, ahead);
      if (ways.length === 0) done.push(joined(s, first, book));
      const left = leftOf(plates, s.standing);
      for (const c of ways) {
        const g = grow(s, left.get(c.standing.plate.family)![0]!, c, plates, book);
        const known = next.get(g.key);
        if (known === undefined || known.score < g.score) next.set(g.key, g);
      }
    }
    states = [...next.values()]
      .sort((a, b) => b.promise - a.promise || byScore(a, b) || (a.key < b.key ? -1 : 1))
      .slice(0, KEPT);
  }
  done.sort((a, b) => byScore(a, b) || (a.key < b.key ? -1 : 1));
  return { pieces: done, stopped: false };
}
