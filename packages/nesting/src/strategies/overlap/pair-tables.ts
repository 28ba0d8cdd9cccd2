import { type Bed, bareObstacles } from '../bed.js';
import { convexHull } from '../convex-pieces.js';
import { convexSum, opposite } from '../minkowski.js';
import { boxOf, type GridBox, type NoFit, noFit } from '../no-fit.js';
import type { GridPolygon } from '../outer-polygon.js';
import { convexTable, type DepthTable, depthAt, depthTable } from './depth-table.js';
import { type Quarter, quarter, turnedBox, turnedPoint, turnedPolygon } from './quarter.js';
import type { Wares } from './variant.js';

/** Cells along the longer side of a table between two shapes. */
const ACROSS = 40;
/** With more tables than this to be made, outlines are coarser, and two shapes have theirs only when they are often near each other. */
export const MANY_TABLES = 1500;
/** … which is so many descents in which they meet. */
const OFTEN = 3;
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
   * from `ROW * fixed` on (x0, y0, x1, y1, shiftX, shiftY), and its quarter turns, where it is `known`.
   */
  rowOf(moving: number): PairRow;
  /** Makes what the row of `moving` has on `fixed` known; the table comes only when somebody asks inside its box. */
  learn(fixed: number, moving: number): PairRow;
  /** For `moving`'s reference with respect to that of `fixed`. */
  between(fixed: number, moving: number): Pairing;
  /**
   * The table to ask while places are looked for: `between`'s, or, where there are so many that making them all would take
   * the time away, that of the convex hulls until the two are often near each other. What a hull says is free is free.
   * `near`: a place is refined.
   */
  whileSearching(fixed: number, moving: number, near: boolean): DepthTable;
  /** Whether the convex hulls overlap when the references differ by (dx, dy), which must be inside the row's box: soon told. */
  hullsMeet(fixed: number, moving: number, dx: number, dy: number): boolean;
  onBed(bed: number, moving: number): readonly BedTable[];
}

/** The pairings of one moving variant with every fixed one. */
export interface PairRow {
  readonly known: Uint8Array;
  readonly numbers: Float64Array;
  readonly quarters: Uint8Array;
  readonly tables: (DepthTable | undefined)[];
  /** In how many descents each was met. */
  readonly met: Uint8Array;
  readonly hulls: (DepthTable | undefined)[];
}

const lazily = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};

/** How many tables there may be: one for two shapes and each way that one is turned with respect to the other. */
function tablesOf({ shapes, variants }: Wares): number {
  const turns = shapes.map(() => new Set<number>());
  for (const v of variants) turns[v.shape]!.add(v.quarter);
  return ((shapes.length * (shapes.length + 1)) / 2) * Math.max(1, ...turns.map((t) => t.size));
}

/** Tables and rows that take more bytes than this together are all forgotten, and made again when asked for. */
const MOST_BYTES = 250e6;
/** What a row takes for each variant. */
const ROW_BYTES = 8 * ROW + 24;

const bytesOf = ({ noFit: f, table }: Made): number =>
  f.polygons.reduce((sum, p) => sum + p.byteLength, f.edges.byteLength + f.boxes.byteLength) +
  table.cells.byteLength +
  table.lists.byteLength +
  table.edges.byteLength +
  table.depths.byteLength +
  table.corners.byteLength;

interface Made {
  readonly noFit: NoFit;
  readonly table: DepthTable;
}

/**
 * Prepares tables; `made` is told of each that is made, which takes as long as some moves of a piece. Where there may be
 * more than `manyTables`, two shapes have theirs only when they are often near each other.
 */
export function pairTables(
  wares: Wares,
  beds: readonly Bed[],
  made: () => void = () => {},
  manyTables = MANY_TABLES,
): PairTables {
  const { shapes, variants } = wares;
  const grownBoxes = variants.map((v): GridBox => {
    const [x0, y0, x1, y1] = turnedBox(boxOf(shapes[v.shape]!.grown), v.quarter);
    return [x0 - v.offX, y0 - v.offY, x1 - v.offX, y1 - v.offY];
  });
  const byShapes = new Map<number, Made>();
  const pairings = new Map<number, Pairing>();
  const rows: (PairRow | undefined)[] = [];
  const hulls = new Map<number, DepthTable>();
  let bytes = 0;
  /** Whoever holds a row or a table that is forgotten keeps one that is right. */
  const makeRoom = (more: number): void => {
    if (bytes + more > MOST_BYTES) {
      byShapes.clear();
      pairings.clear();
      hulls.clear();
      rows.length = 0;
      bytes = 0;
    }
    bytes += more;
  };
  const rowOf = (moving: number): PairRow => {
    let row = rows[moving];
    if (!row) {
      const n = variants.length;
      makeRoom(n * ROW_BYTES);
      row = {
        known: new Uint8Array(n),
        numbers: new Float64Array(ROW * n),
        quarters: new Uint8Array(n),
        tables: Array.from({ length: n }, () => undefined),
        met: new Uint8Array(n),
        hulls: Array.from({ length: n }, () => undefined),
      };
      rows[moving] = row;
    }
    return row;
  };
  const many = tablesOf(wares) > manyTables;
  const bedTables = new Map<number, readonly BedTable[]>();

  const keyOf = (a: number, b: number, q: Quarter): number => (a * shapes.length + b) * 4 + q;
  /** The table of shape `b`, turned by `q`, round shape `a`, in the coordinates of `a`'s reference. */
  const ofShapes = (a: number, b: number, q: Quarter): Made => {
    const key = keyOf(a, b, q);
    const before = byShapes.get(key);
    if (before) return before;
    const moving = shapes[b]!.grown.map((p) => turnedPolygon(p, q));
    made();
    const f = noFit(shapes[a]!.grown, moving);
    const both = { noFit: f, table: depthTable(f, ACROSS) };
    makeRoom(bytesOf(both));
    byShapes.set(key, both);
    return both;
  };

  const hullOf = shapes.map((s) => lazily(() => convexHull(s.grown.flat())));
  const hullTable = (a: number, b: number, q: Quarter): DepthTable => {
    const key = keyOf(a, b, q);
    let table = hulls.get(key);
    if (!table) {
      table = convexTable(convexSum(hullOf[a]!(), opposite(turnedPolygon(hullOf[b]!(), q))));
      makeRoom(table.edges.byteLength + table.corners.byteLength);
      hulls.set(key, table);
    }
    return table;
  };

  /** Which way the table of two variants is turned: see `pairing`. */
  const quarterOf = (fixed: number, moving: number): Quarter => {
    const f = variants[fixed]!;
    const m = variants[moving]!;
    return f.shape > m.shape ? quarter(2 - m.quarter) : quarter(-f.quarter);
  };

  /** The two shapes of which the table is made, and the turn of the second. */
  const pairOf = (fixed: number, moving: number): [number, number, Quarter] => {
    const f = variants[fixed]!;
    const m = variants[moving]!;
    // A no-fit polygon seen from the other shape is its point reflection.
    return f.shape > m.shape
      ? [m.shape, f.shape, quarter(f.quarter - m.quarter)]
      : [f.shape, m.shape, quarter(m.quarter - f.quarter)];
  };

  const pairing = (fixed: number, moving: number): Pairing => {
    const f = variants[fixed]!;
    const m = variants[moving]!;
    const both = ofShapes(...pairOf(fixed, moving));
    const q = quarterOf(fixed, moving);
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
    const v = variants[moving]!;
    const shape = shapes[v.shape]!;
    const placed = (pieces: readonly GridPolygon[]): GridPolygon[] =>
      pieces.map((p) => turnedPolygon(p, v.quarter, -v.offX, -v.offY));
    const all = [
      ...bareObstacles(beds[bed]!, shape.shows).map((pieces) => noFit(pieces, placed(shape.bare))),
      ...beds[bed]!.keepOuts.filter((k) => k.length > 0).map((k) => noFit(k, placed(shape.grown))),
    ];
    return all.map((f) => {
      made();
      return { noFit: f, table: depthTable(f, ACROSS_BED) };
    });
  };

  const learn = (fixed: number, moving: number): PairRow => {
    const row = rowOf(moving);
    if (row.known[fixed]) return row;
    const f = grownBoxes[fixed]!;
    const m = grownBoxes[moving]!;
    const shiftX = variants[fixed]!.offX - variants[moving]!.offX;
    const shiftY = variants[fixed]!.offY - variants[moving]!.offY;
    row.numbers.set([f[0] - m[2], f[1] - m[3], f[2] - m[0], f[3] - m[1], shiftX, shiftY], ROW * fixed);
    row.quarters[fixed] = quarterOf(fixed, moving);
    row.known[fixed] = 1;
    return row;
  };

  const between = (fixed: number, moving: number): Pairing => {
    const key = fixed * variants.length + moving;
    let p = pairings.get(key);
    if (!p) {
      p = pairing(fixed, moving);
      pairings.set(key, p);
      rowOf(moving).tables[fixed] = p.table;
    }
    return p;
  };

  const ofHulls = (row: PairRow, fixed: number, moving: number): DepthTable => {
    let table = row.hulls[fixed];
    if (!table) {
      table = hullTable(...pairOf(fixed, moving));
      row.hulls[fixed] = table;
    }
    return table;
  };

  return {
    learn,
    rowOf,
    between,
    whileSearching(fixed, moving, near) {
      const row = rowOf(moving);
      const known = row.tables[fixed];
      if (known) return known;
      if (!many || byShapes.has(keyOf(...pairOf(fixed, moving)))) return between(fixed, moving).table;
      if (near) row.met[fixed]!++;
      return row.met[fixed]! >= OFTEN ? between(fixed, moving).table : ofHulls(row, fixed, moving);
    },
    hullsMeet(fixed, moving, dx, dy) {
      const { numbers, quarters } = learn(fixed, moving);
      const table = ofHulls(rowOf(moving), fixed, moving);
      const at = ROW * fixed + 4;
      const [x, y] = turnedPoint(dx + numbers[at]!, dy + numbers[at + 1]!, quarter(quarters[fixed]!));
      return depthAt(table, x, y) > 0;
    },
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
