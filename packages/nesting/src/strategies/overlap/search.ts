import type { Bed } from '../bed.js';
import { type Arrangement, arrangementOf } from './arrangement.js';
import { type Field, fieldFor } from './field.js';
import { type HeavyPairs, noHeavyPairs } from './heavy-pairs.js';
import type { PairTables } from './pair-tables.js';
import type { Piece, Variant, Wares } from './variant.js';

/** A part of a bed in which pieces may lie: their boxes stay within it. Grid steps. */
export interface Room {
  readonly bed: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** A room that takes nothing. */
export const closed = (bed: number): Room => ({ bed, x0: 0, y0: 0, x1: -1, y1: -1 });

/** Whether a room is large enough for anything. */
export const isOpen = (r: Room): boolean => r.x1 > r.x0 && r.y1 > r.y0;

/** All that the search for an arrangement without overlap works on. */
export interface Search {
  readonly pieces: readonly Piece[];
  readonly variants: readonly Variant[];
  readonly beds: readonly Bed[];
  readonly tables: PairTables;
  /** One room a bed, in the order of the beds; changed from one attempt to the next. */
  rooms: readonly Room[];
  readonly now: Arrangement;
  /** What an overlap of two pieces counts, grown where it lasts; a square table. */
  readonly weights: Float64Array;
  /** The same for a piece and what its bed forbids. */
  readonly bedWeights: Float64Array;
  /** How badly two pieces overlap, without weight; 0 where they do not. A square table. */
  readonly overlaps: Float64Array;
  readonly bedOverlaps: Float64Array;
  /** With how many others each piece overlaps. */
  readonly partners: Int32Array;
  /** Pairs i < j whose weight is more than 1, at i · n + j. */
  readonly heavy: HeavyPairs;
  /** Square root of each piece's size. */
  readonly roots: Float64Array;
  /** Added to every depth, so that the last touch of an overlap matters too, steps. */
  readonly floor: number;
  /** Positions are tried on this lattice too, steps; 1 where the outlines have none. */
  readonly lattice: number;
  /** Steps of a descent end at this share of a piece's size. */
  fineStep: number;
  readonly field: Field;
  random(): number;
  /** Whether there is budget for one more move. */
  tick: () => boolean;
}

/** Share of the mean size that is added to every depth. */
const FLOOR_SHARE = 0.03;

/** A search over some pieces of the given wares, everything at the origin of the first room. */
export function searchOf(
  wares: Wares,
  pieces: readonly Piece[],
  beds: readonly Bed[],
  tables: PairTables,
  lattice: number,
  run: { random(): number; tick(): boolean },
): Search {
  const n = pieces.length;
  const mean = pieces.reduce((sum, p) => sum + p.size, 0) / Math.max(1, n);
  return {
    pieces,
    variants: wares.variants,
    beds,
    tables,
    rooms: [],
    now: arrangementOf(n),
    weights: new Float64Array(n * n).fill(1),
    bedWeights: new Float64Array(n).fill(1),
    overlaps: new Float64Array(n * n),
    bedOverlaps: new Float64Array(n),
    partners: new Int32Array(n),
    heavy: noHeavyPairs(n),
    roots: Float64Array.from(pieces, (p) => Math.sqrt(p.size)),
    floor: FLOOR_SHARE * mean,
    lattice,
    fineStep: 0.0002,
    field: fieldFor(
      n,
      (fixed, moving, near) => tables.whileSearching(fixed, moving, near),
      (fixed, moving) => tables.between(fixed, moving).table,
    ),
    random: () => run.random(),
    tick: () => run.tick(),
  };
}
