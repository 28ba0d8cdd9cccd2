import type { Ring } from '@haunch/geometry';
import type { Layout } from './layout.js';

/** A face of a board, and of an item, as it lies on the table. */
export type LyingFace = 'up' | 'down';

/** A flaw of one face of a board (a knot, a dent, a stain): nothing that shows that face may cover it. mm. */
export interface FaceDefect {
  readonly outline: Ring;
  readonly face: LyingFace;
}

/** A small item to be placed: its outline as it lies on the table. mm, radians. */
export interface NestingItem {
  readonly id: string;
  readonly outline: Ring;
  /** Openings within the outline in which other items may lie, the spacing kept; none: the item is solid. */
  readonly holes?: readonly Ring[];
  /** The turns it may take, counter-clockwise. */
  readonly turns: readonly number[];
  /** Its faces that will be seen; it keeps off defects of these. None when left out. */
  readonly shows?: readonly LyingFace[];
  /** The boards it may lie on. */
  readonly boards: readonly string[];
}

/** A large object: one board, with the areas that nothing may cover. mm. */
export interface NestingBoard {
  readonly id: string;
  readonly outline: Ring;
  readonly keepOuts: readonly Ring[];
  /** Flaws of one face, which items that do not show that face may cover; the others may touch them. */
  readonly defects?: readonly FaceDefect[];
  /** What a mm² of it counts, above 0: 1 when left out, less for an off-cut that is to be used up first. */
  readonly cost?: number;
}

/** A layout problem: items, boards in order of preference, spacing between items, margin to the board's edge. mm. */
export interface NestingInstance {
  readonly items: readonly NestingItem[];
  readonly boards: readonly NestingBoard[];
  readonly spacing: number;
  readonly edgeMargin: number;
}

/** Randomness and budget, given by the caller: `tick()` answers false when the strategy must stop. */
export interface NestingRun {
  random(): number;
  tick(): boolean;
  /** The share of the budget that is used up, 0 … 1, where it is known: some strategies do one thing early and another late. */
  spent?(): number;
  /**
   * Where several explorers search at once: whether they meet now. A strategy that shares asks whenever it could, and
   * where the answer is true yields its best layout, even one that it has yielded before, and then asks `fellow`.
   */
  meets?(): boolean;
  /** The best layout that the others had at the last meeting; undefined where none had any. */
  fellow?(): Layout | undefined;
}

/** What a strategy can handle. */
export interface NestingSupports {
  readonly severalBoards: boolean;
  readonly keepOuts: boolean;
  readonly irregularBoards: boolean;
  /** Defects of one face; false when left out. */
  readonly defects?: boolean;
}

/**
 * The contract of a nesting strategy, version 1: a generator of ever better complete layouts. The referee,
 * never the strategy, judges validity and score.
 */
export interface NestingStrategy<Options = Readonly<Record<string, unknown>>> {
  readonly name: string;
  readonly contract: 1;
  readonly supports: NestingSupports;
  readonly defaults: Options;
  nest(instance: NestingInstance, options: Options, run: NestingRun): Iterable<Layout>;
}
