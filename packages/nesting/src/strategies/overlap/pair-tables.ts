import type { Bed } from '../bed.js';
import { type NoFit, noFit } from '../no-fit.js';
import type { GridPolygon } from '../outer-polygon.js';
import { type DepthTable, depthTable } from './depth-table.js';
import { type Quarter, quarter, turnedBox, turnedPoint, turnedPolygon } from './quarter.js';
import type { Wares } from './variant.js';

/** Cells along the longer side of a table between two shapes. */
const ACROSS = 64;
/** Cells along the longer side of a table over a board: it is many times as large as a part. */
const ACROSS_BED = 192;

/**
 * How a table is asked about two variants: the difference of their references, moved by (shiftX, shiftY) and
 * turned by `quarter`, is a point of the table.
 */
export interface Pairing {
  readonly table: DepthTable;
  readonly noFit: NoFit;
  readonly quarter: Quarter;
  readonly shiftX: number;
  readonly shiftY: number;
  /** Box of the forbidden differences. */
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** What a variant must keep out of on a bed, in bed coordinates. */
export interface BedTable {
  readonly table: DepthTable;
  readonly noFit: NoFit;
}

/** Numbers of a pairing in a row of `PairTables.rows`: the box of forbidden differences, and the shift. */
export const ROW = 6;

/** Tables for every two variants, made when first asked for; turned pairs share one. */
export interface PairTables {
  /**
   * What the moving variant's search needs of every fixed variant, side by side: for variant `fixed` six numbers
   * from `ROW * fixed` on (x0, y0, x1, y1, shiftX, shiftY), and its table and quarter turns; filled by `between`.
   */
  rowOf(moving: number): PairRow;
  /** For `moving`'s reference with respect to that of `fixed`. */
  between(fixed: number, moving: number): Pairing;
  onBed(bed: number, moving: number): readonly BedTable[];
}

/** The pairings of one moving variant with every fixed one. */
export interface PairRow {
  readonly numbers: Float64Array;
  readonly quarters: Uint8Array;
  readonly tables: (DepthTable | undefined)[];
}

interface Made {
  readonly noFit: NoFit;
  readonly table: DepthTable;
}

/** Prepares tables. */
export function pairTables(wares: Wares, beds: readonly Bed[]): PairTables {
  const { shapes, variants } = wares;
  const byShapes = new Map<number, Made>();
  const pairings = new Map<number, Pairing>();
  const rows: (PairRow | undefined)[] = [];
  const rowOf = (moving: number): PairRow => {
    let row = rows[moving];
    if (!row) {
      const n = variants.length;
      row = {
        numbers: new Float64Array(ROW * n),
        quarters: new Uint8Array(n),
        tables: Array.from({ length: n }, () => undefined),
      };
      rows[moving] = row;
    }
    return row;
  };
  const bedTables = new Map<number, readonly BedTable[]>();

  /** The table of shape `b`, turned by `q`, round shape `a`, in the coordinates of `a`'s reference. */
  const ofShapes = (a: number, b: number, q: Quarter): Made => {
    const key = (a * shapes.length + b) * 4 + q;
    const before = byShapes.get(key);
    if (before) return before;
    const moving = shapes[b]!.grown.map((p) => turnedPolygon(p, q));
    const f = noFit(shapes[a]!.grown, moving);
    const both = { noFit: f, table: depthTable(f, ACROSS) };
    byShapes.set(key, both);
    return both;
  };

  const pairing = (fixed: number, moving: number): Pairing => {
    const f = variants[fixed]!;
    const m = variants[moving]!;
    // A no-fit polygon seen from the other shape is its point reflection.
    const swapped = f.shape > m.shape;
    const both = swapped
      ? ofShapes(m.shape, f.shape, quarter(f.quarter - m.quarter))
      : ofShapes(f.shape, m.shape, quarter(m.quarter - f.quarter));
    const q = swapped ? quarter(2 - m.quarter) : quarter(-f.quarter);
    const shiftX = f.offX - m.offX;
    const shiftY = f.offY - m.offY;
    const box = turnedBox(both.table.box, quarter(-q));
    return {
      ...both,
      quarter: q,
      shiftX,
      shiftY,
      x0: box[0] - shiftX,
      y0: box[1] - shiftY,
      x1: box[2] - shiftX,
      y1: box[3] - shiftY,
    };
  };

  const bedTable = (bed: number, moving: number): BedTable[] => {
    const { outside, keepOuts } = beds[bed]!;
    const v = variants[moving]!;
    const shape = shapes[v.shape]!;
    const placed = (pieces: readonly GridPolygon[]): GridPolygon[] =>
      pieces.map((p) => turnedPolygon(p, v.quarter, -v.offX, -v.offY));
    const all = [
      ...(outside.length > 0 ? [noFit(outside, placed(shape.bare))] : []),
      ...keepOuts.filter((k) => k.length > 0).map((k) => noFit(k, placed(shape.grown))),
    ];
    return all.map((f) => {
      return { noFit: f, table: depthTable(f, ACROSS_BED) };
    });
  };

  return {
    between(fixed, moving) {
      const key = fixed * variants.length + moving;
      let p = pairings.get(key);
      if (!p) {
        p = pairing(fixed, moving);
        pairings.set(key, p);
        const row = rowOf(moving);
        row.numbers.set([p.x0, p.y0, p.x1, p.y1, p.shiftX, p.shiftY], ROW * fixed);
        row.quarters[fixed] = p.quarter;
        row.tables[fixed] = p.table;
      }
      return p;
    },
    rowOf,
    onBed(bed, moving) {
      const key = bed * variants.length + moving;
      let t = bedTables.get(key);
      if (!t) {
        t = bedTable(bed, moving);
        bedTables.set(key, t);
      }
      return t;
    },
  };
}

/** Whether the moving variant overlaps the fixed one when their references differ by (dx, dy), and where that is in the no-fit polygon. */
export const pointOf = (p: Pairing, dx: number, dy: number): readonly [number, number] =>
  turnedPoint(dx + p.shiftX, dy + p.shiftY, p.quarter);
