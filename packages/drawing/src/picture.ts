import type { Box, Point, Ring } from '@haunch/geometry';

/** What a curve in a picture stands for; each has its own line, and where it matters its own hatch. */
export type CurveStyle =
  | 'outline'
  | 'cut'
  | 'pocket'
  | 'relief'
  | 'board'
  | 'keep-out'
  | 'defect'
  | 'tab'
  | 'path'
  | 'hole'
  | 'drawn'
  | 'left-out'
  | 'unclear'
  | 'repair';

/** A curve in a picture; `title` is shown when it is pointed at. mm. */
export interface PictureCurve {
  readonly ring: Ring;
  /** True where the curve ends at its last vertex instead of closing. */
  readonly open?: boolean;
  readonly style: CurveStyle;
  readonly title?: string;
}

/** Lettering about (or from) a place; height mm, turn radians counter-clockwise. */
export interface PictureLabel {
  readonly at: Point;
  readonly text: string;
  readonly height: number;
  readonly turn?: number;
  /** Whether `at` is the middle of the text, as it is unless said otherwise, or its left end. */
  readonly align?: 'middle' | 'start';
}

/** Curves and labels that belong together: a part, a board, a path. Drawn in their order. */
export interface PictureGroup {
  readonly id: string;
  readonly class?: string;
  readonly curves: readonly PictureCurve[];
  readonly labels: readonly PictureLabel[];
}

/** A picture of parts or layouts, y up as on the table. mm; plain data. */
export interface Picture {
  readonly title: string;
  readonly bounds: Box;
  readonly groups: readonly PictureGroup[];
}
