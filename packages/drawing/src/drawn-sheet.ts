import type { Point, Ring } from '@haunch/geometry';

/** A layer to be written. */
export interface DrawnLayer {
  readonly name: string;
  /** Colour number of the format, 1 to 255; 7 is black or white. */
  readonly colour: number;
}

/** A closed curve to be written; elevation and depth as groups 38 and 39. mm. */
export interface DrawnCurve {
  readonly layer: string;
  readonly ring: Ring;
  readonly elevation?: number;
  readonly depth?: number;
}

/** A circle to be written. mm. */
export interface DrawnCircle {
  readonly layer: string;
  readonly centre: Point;
  readonly radius: number;
  readonly elevation?: number;
  readonly depth?: number;
}

/** One line of lettering, from its lower left end. mm. */
export interface DrawnText {
  readonly layer: string;
  readonly at: Point;
  readonly height: number;
  readonly text: string;
}

/** What a drawing file is written from. mm; plain data. */
export interface DrawnSheet {
  readonly title: string;
  readonly layers: readonly DrawnLayer[];
  readonly curves: readonly DrawnCurve[];
  readonly circles: readonly DrawnCircle[];
  readonly texts: readonly DrawnText[];
}
