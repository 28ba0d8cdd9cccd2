import type { Point } from '@haunch/geometry';
import type { Path } from './path.js';

/** How the cutter comes down beside a contour, meets it, and leaves it to come down again. */
export interface Entry {
  /** The contour's closed path, starting and ending where it is met. */
  readonly path: Path;
  /** From where the descent ends to the contour, level; empty where the descent is on the contour itself. */
  readonly leadIn: Path;
  /** From the contour to where the next descent begins, level. */
  readonly leadOut: Path;
  /** A way of at least this length that starts and ends where a descent does. */
  descend(length: number): Path;
  /** Where a descent starts and ends. */
  readonly from: Point;
  /** The edge on which the contour is met. */
  readonly edge: string;
  /** Every place that the way in and out covers, to keep tabs away from. */
  readonly zone: Path;
  readonly onWall: boolean;
  /** Entries of equal grade leave equal marks; the lowest is best. */
  readonly grade: number;
}
