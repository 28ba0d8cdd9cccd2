import { type Arrangement, copyInto } from './arrangement.js';
import type { Room, Search } from './search.js';
import { separate } from './separate.js';
import { fitIn } from './shrink.js';
import { swapTwo } from './swap.js';

const PATIENCE = { rounds: 40, attempts: 2 } as const;
/** How often it is tried again with two pieces swapped. */
const SWAPS = 4;

/**
 * Looks for an arrangement of all pieces in all rooms, where those of `known` begin as they lie there and the others
 * begin anywhere. `known` has the number of a piece in `from`, or −1. Undefined where none is found.
 */
export function insertInto(
  s: Search,
  from: Arrangement | undefined,
  known: readonly number[],
  rooms: readonly Room[],
  goesOn: () => boolean,
): Arrangement | undefined {
  s.rooms = rooms;
  for (let i = 0; i < s.pieces.length; i++) {
    const k = known[i]!;
    if (from && k >= 0) {
      s.now.x[i] = from.x[k]!;
      s.now.y[i] = from.y[k]!;
      s.now.variant[i] = from.variant[k]!;
      s.now.room[i] = from.room[k]!;
      continue;
    }
    const { beds, variants } = s.pieces[i]!;
    const room = beds[Math.floor(s.random() * beds.length)]!;
    const { x0, y0, x1, y1 } = rooms[room]!;
    s.now.room[i] = room;
    s.now.variant[i] = variants[Math.floor(s.random() * variants.length)]!;
    s.now.x[i] = Math.round(x0 + s.random() * (x1 - x0));
    s.now.y[i] = Math.round(y0 + s.random() * (y1 - y0));
    if (!fitIn(s, i)) return undefined;
  }
  for (let k = 0; k <= SWAPS && goesOn(); k++) {
    if (k > 0) swapTwo(s);
    const found = separate(s, PATIENCE);
    if (found.outcome === 'free') return found.arrangement;
    if (found.outcome === 'spent') return undefined;
    copyInto(s.now, found.arrangement);
  }
  return undefined;
}
