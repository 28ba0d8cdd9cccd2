import { PAGE_SIZES, type PageName } from './sheet/page-size.js';

/** A sheet of labels by its geometry, mm. */
export interface LabelSheet {
  readonly columns: number;
  readonly rows: number;
  /** Left and right, top and bottom. */
  readonly margin: readonly [number, number];
  /** Between columns, between rows. */
  readonly gap: readonly [number, number];
}

/** What a label needs at the least for a name and a code that can be read, mm: the code's modules are then a third of a millimetre. */
export const LEAST_LABEL: readonly [number, number] = [40, 21];

/** Width and height of each label, mm; not positive where margins and gaps leave nothing. */
export const labelSize = (page: PageName, s: LabelSheet): readonly [number, number] => {
  const [w, h] = PAGE_SIZES[page];
  return [
    (w - 2 * s.margin[0] - (s.columns - 1) * s.gap[0]) / s.columns,
    (h - 2 * s.margin[1] - (s.rows - 1) * s.gap[1]) / s.rows,
  ];
};

/** The upper left corner of a label, counted row by row from 0. mm */
export function labelCorner(
  page: PageName,
  s: LabelSheet,
  index: number,
): { readonly x: number; readonly y: number } {
  const [w, h] = labelSize(page, s);
  const [column, row] = [index % s.columns, Math.floor(index / s.columns)];
  return { x: s.margin[0] + column * (w + s.gap[0]), y: s.margin[1] + row * (h + s.gap[1]) };
}
