import type { Point } from '@haunch/geometry';
import type { CurveRun } from './curve-run.js';
import type { SvgElement } from './element-tree.js';

/** What an element draws, in the root's user units, y down. */
export interface DrawnShape {
  readonly element: SvgElement;
  /** Its place in the order of drawing. */
  readonly order: number;
  readonly layer: string;
  readonly runs: readonly CurveRun[];
  readonly stroke: string | null;
  readonly fill: string | null;
  readonly dashed: boolean;
}

/** Lettering, in the root's user units, y down; `turn` in radians as drawn (clockwise seen). */
export interface DrawnWords {
  readonly element: SvgElement;
  /** Its place in the order of drawing. */
  readonly order: number;
  readonly layer: string;
  readonly at: Point;
  readonly text: string;
  readonly height: number;
  readonly turn: number;
}
