import type { Arrangement } from './arrangement.js';
import { copyInto } from './arrangement.js';
import { bedArea, bedCost, bedsUsed, extentOf } from './extent.js';
import { closed, type Room, type Search } from './search.js';
import { separate } from './separate.js';
import { fitIn } from './shrink.js';
import { swapTwo } from './swap.js';

const PATIENCE = { rounds: 40, attempts: 2 } as const;
/** How often a choice of beds is tried again with two pieces swapped. */
const SWAPS = 6;

/** Beds that might do instead of those in use. */
interface Choice {
  readonly open: readonly number[];
  readonly area: number;
  readonly cost: number;
}

/** Choices with one bed less, or with a cheaper one instead of one in use; the least cost first. */
function choices(s: Search, used: readonly number[]): Choice[] {
  const sumOf = (beds: readonly number[], of: typeof bedArea): number =>
    beds.reduce((sum, k) => sum + of(s.beds[k]!), 0);
  const needed = s.pieces.reduce((sum, p) => sum + p.squareSteps, 0);
  const all: number[][] = [];
  for (const k of used) {
    const rest = used.filter((b) => b !== k);
    all.push(rest);
    for (let j = 0; j < s.beds.length; j++)
      if (!used.includes(j) && bedCost(s.beds[j]!) < bedCost(s.beds[k]!))
        all.push([...rest, j].sort((a, b) => a - b));
  }
  return all
    .map((open) => ({ open, area: sumOf(open, bedArea), cost: sumOf(open, bedCost) }))
    .filter(({ open, area }) => open.length > 0 && area >= needed)
    .filter(({ open }) => s.pieces.every((p) => p.beds.some((b) => open.includes(b))))
    .sort((a, b) => a.cost - b.cost || a.open.length - b.open.length || compare(a.open, b.open));
}

const compare = (a: readonly number[], b: readonly number[]): number => {
  const k = a.findIndex((v, i) => v !== b[i]);
  return k < 0 ? 0 : a[k]! - (b[k] ?? -1);
};

/** Opens just some rooms, and puts what lay in the others anywhere; false where a piece fits into none of them. */
export function openOnly(
  s: Search,
  from: Arrangement,
  rooms: readonly Room[],
  open: readonly number[],
): boolean {
  copyInto(s.now, from);
  s.rooms = rooms.map((r, k) => (open.includes(k) ? r : closed(k)));
  for (let i = 0; i < s.pieces.length; i++) if (!fitIn(s, i)) return false;
  return true;
}

/**
 * Tries to do with fewer or smaller beds: closes a bed, or takes a smaller one for it, lays what was there anywhere, and
 * drives the overlap to zero. Yields every arrangement that takes less. Ends when no choice is left, or when
 * `goesOn` says no.
 */
export function* fewerBeds(
  s: Search,
  start: Arrangement,
  rooms: readonly Room[],
  goesOn: () => boolean,
): Generator<Arrangement> {
  let best = start;
  for (let again = true; again; ) {
    again = false;
    const extent = extentOf(s, best);
    for (const { open } of choices(s, bedsUsed(best))) {
      for (let k = 0; k <= SWAPS && goesOn() && !again; k++) {
        if (k === 0 && !openOnly(s, best, rooms, open)) break;
        if (k > 0) swapTwo(s);
        const found = separate(s, PATIENCE);
        if (found.outcome === 'spent') return;
        if (found.outcome === 'stuck') {
          copyInto(s.now, found.arrangement);
          continue;
        }
        if (extentOf(s, found.arrangement) >= extent) break;
        best = found.arrangement;
        yield best;
        again = true;
      }
      if (again || !goesOn()) break;
    }
  }
}
