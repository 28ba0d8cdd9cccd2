import type { Standing } from './judge-plates.js';

/** A piece as far as it is put together: which plates stand, and what speaks for it. */
export interface Piece {
  readonly standing: ReadonlyMap<number, Standing>;
  readonly score: number;
}
