import { ON_GRID, STEPS } from '../outer-polygon.js';
import { type Arrangement, copyInto } from './arrangement.js';
import { isOpen, type Search } from './search.js';
import { type Separated, separate } from './separate.js';
import { lengthOf, type Stretch, shrinkInto, usedLength, withLength } from './shrink.js';
import { swapTwo } from './swap.js';

/** An arrangement without overlap and the rooms it is in; the last one is as short as the arrangement. */
export interface Incumbent {
  readonly arrangement: Arrangement;
  readonly stretch: Stretch;
}

/** What `shorten` finds: something shorter, or, where `meets`, what it has when explorers meet. */
export interface Found extends Incumbent {
  readonly meets?: true;
}

/** How explorers share what they have. */
export interface Meeting {
  /** Whether they meet now. */
  due(): boolean;
  /** What the best of the others has, as an arrangement of the same pieces. */
  fellow(): Arrangement | undefined;
}

/** How the search divides its budget and how long it tries. */
export interface ShortenOptions {
  /** Share of the budget for finding other arrangements; the rest makes the best one tighter. */
  readonly explore: number;
  /** Share of the length that the first attempts take away. */
  readonly firstShrink: number;
}

const LEAST_SHRINK = 0.001;
/** Where larger steps fail, so much is tried for long, and then a few smaller steps; twice as much was rarely found, and held up all else. */
const FIRM_SHRINK = 0.0025;
const SMALL_IN_A_ROW = 4;
/** How often two pieces are swapped before a length is given up for a while. */
const SWAPS = 40;
const MOST_SHRINK = 0.03;
const POOL = 20;
const EXPLORING = { rounds: 60, attempts: 3 } as const;
const COMPRESSING = { rounds: 40, attempts: 2 } as const;
/** Rounds below which a success was quick. */
const QUICK = 20;
const SLOW = 120;
/** Where descents end, in shares of a piece's size, early and late. */
const ROUGH = 0.0001;
const FINE = 0.00002;
const COMPRESS_FROM = 0.0008;
const COMPRESS_TO = 0.00002;

/** In how many compressions one goes to the next length on the lattice. */
const LATTICE_TURNS = 3;

/** No arrangement has a shorter last room: the pieces' area is more than the other rooms have. At least 1. */
function leastLength(s: Search, { rooms, last, axis }: Stretch): number {
  let area = s.pieces.reduce((sum, p) => sum + p.area, 0) * STEPS * STEPS;
  rooms.forEach((r, k) => {
    if (k !== last) area -= (r.x1 - r.x0) * (r.y1 - r.y0);
  });
  const room = rooms[last]!;
  const across = axis === 'x' ? room.y1 - room.y0 : room.x1 - room.x0;
  return Math.max(1, Math.ceil(area / across - ON_GRID));
}

/** Makes the room as short as what lies in it. */
function tightened(s: Search, arrangement: Arrangement, stretch: Stretch): Incumbent {
  return { arrangement, stretch: withLength(stretch, usedLength(s, arrangement, stretch)) };
}

/** The arrangement of a fellow explorer, where it lies in the same rooms and is shorter. */
function adopted(s: Search, own: Incumbent, other: Arrangement | undefined): Incumbent | undefined {
  if (!other?.room.every((r) => isOpen(own.stretch.rooms[r]!))) return undefined;
  const theirs = tightened(s, other, own.stretch);
  return lengthOf(theirs.stretch) < lengthOf(own.stretch) ? theirs : undefined;
}

/** One of the pool, rather a good one. */
function picked(s: Search, pool: readonly Separated[]): Separated {
  return pool[Math.floor(s.random() ** 2 * pool.length)]!;
}

function keepInPool(pool: Separated[], one: Separated): void {
  pool.push(one);
  pool.sort((a, b) => a.left - b.left);
  if (pool.length > POOL) pool.pop();
}

/** Separates; what gets stuck goes into a pool, and some of it is tried again with two pieces swapped. */
function separateWithSwaps(s: Search, goesOn: () => boolean): Separated {
  const pool: Separated[] = [];
  for (let tries = 0; ; tries++) {
    const found = separate(s, EXPLORING);
    if (found.outcome !== 'stuck' || tries >= SWAPS || !goesOn()) return found;
    keepInPool(pool, found);
    copyInto(s.now, picked(s, pool).arrangement);
    swapTwo(s);
  }
}

/**
 * Makes the last room ever shorter: shrinks, drives the overlap to zero, and shrinks again; what gets stuck goes
 * into a pool, and some of it is tried again with two pieces swapped. Then the best is compressed in tiny steps, and
 * explorers that meet go on with the best that any of them has: not before, as arrangements of one kind are soon all there is.
 * Yields every arrangement that is shorter than all before; ends when the budget does or when nothing can be
 * shorter. `spent` is the share of the budget used. The way of the search follows J. Gardeyn, G. Vanden Berghe &
 * T. Wauters, "An open-source heuristic to reboot 2D nesting research" (2025), §4, and Imamichi, Yagiura &
 * Nagamochi (Discrete Optimization 6, 2009).
 */
export function* shorten(
  s: Search,
  start: Incumbent,
  options: ShortenOptions,
  spent: () => number,
  meeting?: Meeting,
): Generator<Found> {
  let best = start;
  const least = leastLength(s, start.stretch);
  s.fineStep = ROUGH;
  let ratio = options.firstShrink;
  let small = SMALL_IN_A_ROW;
  while (spent() < options.explore) {
    if (lengthOf(best.stretch) <= least) return;
    const firm = ratio <= FIRM_SHRINK && small >= SMALL_IN_A_ROW;
    const shorter = withLength(
      best.stretch,
      Math.max(least, Math.floor(lengthOf(best.stretch) * (1 - (firm ? FIRM_SHRINK : ratio)))),
    );
    if (!shrinkInto(s, best.arrangement, best.stretch, shorter)) {
      if (ratio <= LEAST_SHRINK) break;
      ratio = Math.max(LEAST_SHRINK, ratio / 2);
      small = 0;
      continue;
    }
    const found = firm ? separateWithSwaps(s, () => spent() < options.explore) : separate(s, EXPLORING);
    if (found.outcome === 'spent') return;
    if (found.outcome === 'free') {
      best = tightened(s, found.arrangement, shorter);
      yield best;
      if (found.rounds < QUICK) ratio = Math.min(MOST_SHRINK, ratio * 1.3);
      else if (found.rounds > SLOW) ratio = Math.max(LEAST_SHRINK, ratio * 0.6);
      small = firm ? SMALL_IN_A_ROW : small + 1;
    } else if (firm) {
      // Nothing so much shorter is found: some smaller steps, which change the arrangement, and again.
      ratio = LEAST_SHRINK;
      small = 0;
    } else if (ratio > FIRM_SHRINK) ratio /= 2;
    else small++;
  }
  s.fineStep = FINE;
  const begun = spent();
  for (let turn = 0; ; turn++) {
    if (meeting?.due()) {
      yield { ...best, meets: true };
      const theirs = adopted(s, best, meeting.fellow());
      if (theirs) {
        best = theirs;
        yield best;
      }
    }
    if (lengthOf(best.stretch) <= least) return;
    const gone = Math.min(1, (spent() - begun) / Math.max(1e-9, 1 - begun));
    const by = COMPRESS_FROM + (COMPRESS_TO - COMPRESS_FROM) * gone;
    const length = lengthOf(best.stretch);
    const toLattice = s.lattice > 1 && turn % LATTICE_TURNS === 0;
    const target = toLattice
      ? Math.floor((length - 1) / s.lattice) * s.lattice
      : Math.floor(length - Math.max(1, length * by));
    const shorter = withLength(best.stretch, Math.max(least, target));
    if (!shrinkInto(s, best.arrangement, best.stretch, shorter, toLattice)) return;
    const found = separate(s, COMPRESSING);
    if (found.outcome === 'spent') return;
    if (found.outcome !== 'free') continue;
    best = tightened(s, found.arrangement, shorter);
    yield best;
  }
}
