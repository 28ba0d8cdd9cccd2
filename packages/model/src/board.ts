import type { Point, Ring } from '@haunch/geometry';
import type { FaceDefect } from './nesting-contract.js';
import type { ThicknessMap } from './thickness-map.js';

/** One thickness reading, mm, with its place on the board where it is known. */
export interface Reading {
  readonly thickness: number;
  readonly at?: Point;
}

/** What a sheet is made of, by what it takes to cut a chip of it. */
export type SheetMaterial = 'softwood plywood' | 'birch plywood' | 'fibreboard' | 'particleboard';

/** A straight cut through a board from edge to edge, that frees an off-cut or trims the sheet's edge. mm */
export interface Trim {
  /** The axis along which it runs. */
  readonly along: 'x' | 'y';
  /** Where its finished edge lies on the other axis. */
  readonly at: number;
  /** On which side of it the cutter runs: at less or at greater coordinates. */
  readonly waste: 'below' | 'above';
}

/** A measured sheet or off-cut. Its outline lies in machine coordinates, lower left corner at (0, 0). mm. */
export interface Board {
  readonly id: string;
  /** The stock it is taken from: parts name the stock they want. */
  readonly stock: string;
  readonly outline: Ring;
  /** What it is made of, for forces and speeds; not known when left out. */
  readonly sheet?: SheetMaterial;
  /** Mean over the board. */
  readonly thickness: number;
  /** Thickness from place to place, where the readings allow to tell. */
  readonly map?: ThicknessMap;
  readonly readings: readonly Reading[];
  /** The direction of the face grain on the board; null where there is none. */
  readonly grain: 'x' | 'y' | null;
  /** Areas that no cutter may enter (screws, clamps, defects). */
  readonly keepOuts: readonly Ring[];
  /** Flaws of one face, as the board lies: parts that do not show that face may lie over them. */
  readonly defects?: readonly FaceDefect[];
  /** Straight cuts through it that free an off-cut or trim an edge, after everything else. */
  readonly trims?: readonly Trim[];
  /** Screws that hold the sheet on the bed, and how wide their heads are, mm: each is one of the keep-outs as well. */
  readonly screws?: readonly { readonly at: Point; readonly head: number }[];
  /**
   * Pins in the bed on which it is turned over about its middle line along an axis, so that features of both faces can be cut; each pin's
   * mirror image is a pin too. Their keep-outs are the last of `keepOuts`. Or, without pins, round stops of this diameter that the sheet's
   * edges are pushed against before and after: where they touch its outline.
   */
  readonly turnOver?: {
    readonly axis: 'x' | 'y';
    readonly pins: readonly Point[];
    readonly stops?: readonly Point[];
    readonly diameter: number;
  };
}
