import type { Motion, Point } from '@haunch/geometry';
import type { Part } from '@haunch/model';

/** A part that was found among what a program cuts. */
export interface FoundPart {
  /** The part's id, or `id/2` … for further copies of it. */
  readonly item: string;
  readonly piece: number;
  /** The part where it is cut, program coordinates. mm */
  readonly part: Part;
  /** What took the part from where it was given to there; mirrored where it is cut as its mirror image. */
  readonly motion: Motion;
  /** How it was known: as a piece that comes free, or by edges alone because nothing comes free there. */
  readonly by: 'piece' | 'edges';
  /** Share of its through contours' length along which an edge was cut within 0.6 mm. */
  readonly share: number;
}

/** A piece that comes free and is none of the parts. Program coordinates, mm. */
export interface StrangePiece {
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  readonly area: number;
}

/** How the parts that were sought lie among what a program cuts. Plain data. */
export interface Alignment {
  readonly kind: 'alignment';
  readonly found: readonly FoundPart[];
  /** Parts that the program does not cut. */
  readonly lacking: readonly string[];
  /** Of those, parts as large as a strange piece, by half and double. */
  readonly missed: readonly string[];
  readonly strange: readonly StrangePiece[];
  /** The one motion that takes a whole layout to the program; null where parts were found one by one. */
  readonly layout: Motion | null;
}
