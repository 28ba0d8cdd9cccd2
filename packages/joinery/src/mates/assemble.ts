import type { DryRun } from '../dryfit/dry-run.js';
import type { Frame } from '../frame.js';
import { judgePlates, type Meeting, type Standing, stand } from './judge-plates.js';
import type { Plate } from './plate-layers.js';
import { posesOf, within } from './pose.js';

/** How many unfinished pieces are kept at each step, and how many ways each may grow. */
const KEPT = 24;
const GROWN = 8;

/** How much less may speak for a place that is still tried. */
const NEAR = 0.6;

/** The least that must speak for two plates alone: a lap that bears on three faces. */
const BEGINS = 2.5;

/** The least that must speak for a plate's place: one end that meets between two faces that bear. */
const LEAST = 2;

interface Candidate {
  readonly plate: number;
  readonly standing: Standing;
  readonly score: number;
}

/** A piece as far as it is put together: which plates stand, and what speaks for it. */
export interface Piece {
  readonly standing: ReadonlyMap<number, Standing>;
  readonly score: number;
}

interface State extends Piece {
  readonly candidates: readonly Candidate[];
  readonly key: string;
  /** The score with the best place that each plate that is left has now. */
  readonly promise: number;
}

const ORIGIN: Frame = { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] };

/** What a meeting counts for. */
export const worth = (m: Meeting): number => m.ends + m.bearings / 2;

/** True where the meeting is a joint: ends meet, and faces bear on both sides of one. */
export const isJoint = (m: Meeting): boolean => m.ends >= 1 && m.bearings >= 2;

const byScore = (a: { score: number }, b: { score: number }): number => b.score - a.score;
/** What is known of pairs of plates: found once for each two families and once for each two places. */
export class PoseBook {
  readonly #poses = new Map<string, readonly Frame[]>();
  readonly #meetings = new Map<number, Meeting | null>();
  readonly #places = new Map<string, Standing>();
  readonly #around = new Map<number, Map<number, readonly Standing[]>>();

  /** The plate in its place; one and the same for congruent plates in one place. */
  place(plate: Plate, frame: Frame): Standing {
    const s = stand(plate, frame, this.#places.size + 1);
    const known = this.#places.get(s.key);
    if (known !== undefined) return known;
    this.#places.set(s.key, s);
    return s;
  }

  /** The places round a standing plate in which a plate of the second's family makes a joint with it. */
  around(a: Standing, plate: Plate): readonly Standing[] {
    let mine = this.#around.get(a.id);
    if (mine === undefined) {
      mine = new Map();
      this.#around.set(a.id, mine);
    }
    let found = mine.get(plate.family);
    if (found === undefined) {
      found = this.between(a.plate, plate).map((f) => this.place(plate, within(a.frame, f)));
      mine.set(plate.family, found);
    }
    return found;
  }

  /** Where a plate of the second's family may stand on the first so that the two make a joint. */
  between(a: Plate, b: Plate): readonly Frame[] {
    const key = `${a.family}/${b.family}`;
    const known = this.#poses.get(key);
    if (known !== undefined) return known;
    const seen = new Set<string>();
    const found: Frame[] = [];
    const base = stand(a, ORIGIN);
    for (const { frame } of posesOf(a, b)) {
      const s = stand(b, frame);
      if (seen.has(s.key)) continue;
      seen.add(s.key);
      const met = judgePlates(base, s);
      if (met !== null && isJoint(met) && worth(met) >= BEGINS) found.push(frame);
    }
    this.#poses.set(key, found);
    return found;
  }

  /** How two standing plates meet. */
  meeting(a: Standing, b: Standing): Meeting | null {
    if (a.id === 0 || b.id === 0) return judgePlates(a, b);
    const key = Math.min(a.id, b.id) * 2 ** 26 + Math.max(a.id, b.id);
    let met = this.#meetings.get(key);
    if (met === undefined) {
      met = judgePlates(a, b);
      this.#meetings.set(key, met);
    }
    return met;
  }
}

/** What the best places that plates which are left have now would add; no two congruent ones in one another. */
function promiseOf(
  candidates: readonly Candidate[],
  plates: readonly Plate[],
  standing: ReadonlyMap<number, Standing>,
  book: PoseBook,
): number {
  const left = new Map<number, number>();
  plates.forEach((plate, q) => {
    if (!standing.has(q)) left.set(plate.family, (left.get(plate.family) ?? 0) + 1);
  });
  const taken = new Map<number, Standing[]>();
  let sum = 0;
  for (const o of [...candidates].sort((a, b) => byScore(a, b) || a.standing.id - b.standing.id)) {
    const family = o.standing.plate.family;
    const mine = taken.get(family) ?? [];
    if (mine.length >= (left.get(family) ?? 0)) continue;
    if (mine.some((s) => book.meeting(s, o.standing) === null)) continue;
    taken.set(family, [...mine, o.standing]);
    sum += o.score;
  }
  return sum;
}

function grow(state: State, c: Candidate, plates: readonly Plate[], book: PoseBook): State {
  const standing = new Map(state.standing).set(c.plate, c.standing);
  const left = new Map<number, number>();
  plates.forEach((plate, q) => {
    if (!standing.has(q) && !left.has(plate.family)) left.set(plate.family, q);
  });
  const candidates: Candidate[] = [];
  const seen = new Set<number>();
  for (const o of state.candidates) {
    const plate = left.get(o.standing.plate.family);
    if (plate === undefined) continue;
    const met = book.meeting(c.standing, o.standing);
    if (met === null) continue;
    seen.add(o.standing.id);
    candidates.push({ ...o, plate, score: o.score + worth(met) });
  }
  for (const q of left.values())
    for (const s of book.around(c.standing, plates[q]!)) {
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
      if (free) candidates.push({ plate: q, standing: s, score });
    }
  const promise = state.score + c.score + promiseOf(candidates, plates, standing, book);
  return {
    standing,
    candidates,
    promise,
    score: state.score + c.score,
    key: [...standing.values()]
      .map((s) => s.id)
      .sort((a, b) => a - b)
      .join(' '),
  };
}

/**
 * The places to try next: those of one plate only, since the order of independent plates is all the same. The plate
 * is the one with the best place and the fewest others as good.
 */
function growths(state: State): Candidate[] {
  const ways = new Map<number, Candidate[]>();
  for (const c of state.candidates) {
    if (c.score < LEAST) continue;
    const mine = ways.get(c.plate);
    if (mine === undefined) ways.set(c.plate, [c]);
    else mine.push(c);
  }
  let best: Candidate[] = [];
  let bestValue = -Infinity;
  for (const mine of ways.values()) {
    mine.sort((a, b) => byScore(a, b) || a.standing.id - b.standing.id);
    const near = mine.filter((c) => c.score >= mine[0]!.score - NEAR);
    const value = mine[0]!.score - (near.length - 1);
    if (value > bestValue) {
      bestValue = value;
      best = near.slice(0, GROWN);
    }
  }
  return best;
}

/**
 * The best pieces that hold the plate `first`, best first: grown plate by plate, a handful side by side. Bounded:
 * at most 24 × 8 growths per plate. Stops early with what it has when `run` says so; then `stopped` is true.
 */
export function assemble(
  plates: readonly Plate[],
  first: number,
  book: PoseBook,
  run?: DryRun,
): { readonly pieces: readonly Piece[]; readonly stopped: boolean } {
  const nothing: State = { standing: new Map(), candidates: [], score: 0, promise: 0, key: '' };
  const start: Candidate = { plate: first, standing: book.place(plates[first]!, ORIGIN), score: 0 };
  let states: State[] = [grow(nothing, start, plates, book)];
  const done: State[] = [];
  while (states.length > 0) {
    const next = new Map<string, State>();
    for (const s of states) {
      if (run?.tick() === false) return { pieces: [...done, ...states].sort(byScore), stopped: true };
      const ways = growths(s);
      if (ways.length === 0) done.push(s);
      for (const c of ways) {
        const g = grow(s, c, plates, book);
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
