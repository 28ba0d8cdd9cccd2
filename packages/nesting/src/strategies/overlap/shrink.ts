import { type Arrangement, copyInto } from './arrangement.js';
import type { Room, Search } from './search.js';

/** Along which axis the last room is shortened. */
export type Axis = 'x' | 'y';

/** Rooms of which one, `last`, is made ever shorter along `axis`. */
export interface Stretch {
  readonly rooms: readonly Room[];
  readonly last: number;
  readonly axis: Axis;
}

/** The length of the room that is shortened. */
export const lengthOf = ({ rooms, last, axis }: Stretch): number =>
  axis === 'x' ? rooms[last]!.x1 - rooms[last]!.x0 : rooms[last]!.y1 - rooms[last]!.y0;

/** The same rooms with another length of the last one. */
export function withLength(s: Stretch, length: number): Stretch {
  const rooms = s.rooms.map((r, k) => {
    if (k !== s.last) return r;
    return s.axis === 'x' ? { ...r, x1: r.x0 + length } : { ...r, y1: r.y0 + length };
  });
  return { ...s, rooms };
}

/** How much of the last room's length an arrangement takes. */
export function usedLength(s: Search, a: Arrangement, { rooms, last, axis }: Stretch): number {
  const room = rooms[last]!;
  let used = 0;
  for (let i = 0; i < s.pieces.length; i++) {
    if (a.room[i] !== last) continue;
    const v = s.variants[a.variant[i]!]!;
    used = Math.max(used, axis === 'x' ? a.x[i]! + v.width - room.x0 : a.y[i]! + v.height - room.y0);
  }
  return used;
}

const clamp = (v: number, lo: number, hi: number): number => Math.max(lo, Math.min(hi, v));

/** Puts piece `i` into the room it is in, or, where it is too small, turned, or into another; false where none can take it. */
export function fitIn(s: Search, i: number): boolean {
  const { now, rooms, variants, pieces } = s;
  const fits = (variant: number, r: number): boolean =>
    variants[variant]!.width <= rooms[r]!.x1 - rooms[r]!.x0 &&
    variants[variant]!.height <= rooms[r]!.y1 - rooms[r]!.y0;
  const piece = pieces[i]!;
  if (!fits(now.variant[i]!, now.room[i]!)) {
    const here = piece.variants.find((v) => fits(v, now.room[i]!));
    if (here !== undefined) now.variant[i] = here;
    else {
      const choices = rooms.flatMap((room, r) =>
        piece.beds.includes(room.bed)
          ? piece.variants.filter((v) => fits(v, r)).map((v) => [v, r] as const)
          : [],
      );
      const choice = choices[Math.floor(s.random() * choices.length)];
      if (!choice) return false;
      [now.variant[i], now.room[i]] = choice;
      const room = rooms[choice[1]]!;
      now.x[i] = Math.round(room.x0 + s.random() * (room.x1 - room.x0));
      now.y[i] = Math.round(room.y0 + s.random() * (room.y1 - room.y0));
    }
  }
  const room = rooms[now.room[i]!]!;
  const v = variants[now.variant[i]!]!;
  now.x[i] = clamp(now.x[i]!, room.x0, room.x1 - v.width);
  now.y[i] = clamp(now.y[i]!, room.y0, room.y1 - v.height);
  return true;
}

/**
 * Takes an arrangement into a shorter last room: what lies beyond a random line moves back by as much as is
 * lacking. With `toLattice` every piece then goes to the nearest point of the lattice. Answers false where a piece no
 * longer fits in any room.
 */
export function shrinkInto(
  s: Search,
  from: Arrangement,
  before: Stretch,
  after: Stretch,
  toLattice = false,
): boolean {
  copyInto(s.now, from);
  s.rooms = after.rooms;
  const by = lengthOf(before) - lengthOf(after);
  const room = after.rooms[after.last]!;
  const along = after.axis === 'x' ? s.now.x : s.now.y;
  const low = after.axis === 'x' ? room.x0 : room.y0;
  const line = low + s.random() * lengthOf(after);
  for (let i = 0; i < s.pieces.length; i++) {
    if (s.now.room[i] === after.last) {
      const v = s.variants[s.now.variant[i]!]!;
      const middle = along[i]! + (after.axis === 'x' ? v.width : v.height) / 2;
      if (middle > line) along[i] = along[i]! - by;
    }
    if (toLattice) {
      s.now.x[i] = Math.round(s.now.x[i]! / s.lattice) * s.lattice;
      s.now.y[i] = Math.round(s.now.y[i]! / s.lattice) * s.lattice;
    }
    if (!fitIn(s, i)) return false;
  }
  return true;
}
