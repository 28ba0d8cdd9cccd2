import type { Standing } from './standing-plate.js';

/** A piece as far as it is put together: which plates stand, and what speaks for it. */
export interface Piece {
  readonly standing: ReadonlyMap<number, Standing>;
  readonly score: number;
}
