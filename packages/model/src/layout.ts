import type { Motion } from '@haunch/geometry';
import type { Part } from './part.js';
import { movePart, partOnTable } from './part-motion.js';

/** One copy of a part, placed. `motion` takes the part as it lies on the table to board coordinates; it never mirrors. */
export interface Placement {
  /** The copy: the part's id, or `id/2`, `id/3` … where there are several pieces. */
  readonly item: string;
  readonly board: string;
  readonly motion: Motion;
}

/** Where each item lies on which board. */
export interface Layout {
  readonly kind: 'layout';
  readonly placements: readonly Placement[];
  /** Items for which there was no room. */
  readonly unplaced: readonly string[];
}

/** A part in board coordinates, seen from above as it is cut. */
export const placePart = (p: Part, placement: Placement): Part => movePart(placement.motion, partOnTable(p));
