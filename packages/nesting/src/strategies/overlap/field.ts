import { type DepthTable, depthAt } from './depth-table.js';

/**
 * What stands in the way of one piece in one variant in one room, gathered flat: for each obstacle the box in
 * which the piece's reference may overlap it, how to ask its table, and what an overlap counts.
 */
export interface Field {
  count: number;
  x0: Float64Array;
  y0: Float64Array;
  x1: Float64Array;
  y1: Float64Array;
  /** Subtracted from the reference before it is turned into the table. */
  fromX: Float64Array;
  fromY: Float64Array;
  quarter: Uint8Array;
  weight: Float64Array;
  readonly tables: (DepthTable | undefined)[];
  /** The variant of each obstacle and of the piece, by which a table that is not yet there is made. */
  readonly fixed: Int32Array;
  moving: number;
  /** The table to look for places with; see `PairTables.whileSearching`. */
  readonly make: (fixed: number, moving: number, near: boolean) => DepthTable;
  /** The table that is right. */
  readonly makeSure: (fixed: number, moving: number) => DepthTable;
  /** Only a window round a place is gathered. */
  near: boolean;
  /** Which piece the obstacle is; −1 for what the bed forbids. */
  readonly who: Int32Array;
  floor: number;
  /** Where references may be. */
  roomX0: number;
  roomY0: number;
  roomX1: number;
  roomY1: number;
}

/** How many obstacles of a bed a field has room for. */
export const BED_OBSTACLES = 64;

/** An empty field for `n` pieces. */
export function fieldFor(n: number, make: Field['make'], makeSure: Field['makeSure']): Field {
  const k = n + BED_OBSTACLES;
  const array = (): Float64Array => new Float64Array(k);
  return {
    count: 0,
    x0: array(),
    y0: array(),
    x1: array(),
    y1: array(),
    fromX: array(),
    fromY: array(),
    quarter: new Uint8Array(k),
    weight: array(),
    tables: [],
    fixed: new Int32Array(k),
    moving: 0,
    make,
    makeSure,
    near: false,
    who: new Int32Array(k),
    floor: 0,
    roomX0: 0,
    roomY0: 0,
    roomX1: 0,
    roomY1: 0,
  };
}

/** The table of an obstacle, made if it is not yet there. */
function tableOf(f: Field, k: number): DepthTable {
  let table = f.tables[k];
  if (!table) {
    table = f.make(f.fixed[k]!, f.moving, f.near);
    f.tables[k] = table;
  }
  return table;
}

/** The depth of one obstacle at a place that is inside its box. */
export function depthOf(f: Field, k: number, x: number, y: number): number {
  const u = x - f.fromX[k]!;
  const w = y - f.fromY[k]!;
  const table = f.tables[k] ?? tableOf(f, k);
  switch (f.quarter[k]) {
    case 0:
      return depthAt(table, u, w);
    case 1:
      return depthAt(table, -w, u);
    case 2:
      return depthAt(table, -u, -w);
    default:
      return depthAt(table, w, -u);
  }
}

/** The same by the table that is right, where the one in hand may take the shapes for larger than they are. */
export function sureDepthOf(f: Field, k: number, x: number, y: number): number {
  const depth = depthOf(f, k, x, y);
  if (depth === 0 || f.who[k]! < 0) return depth;
  const sure = f.makeSure(f.fixed[k]!, f.moving);
  if (sure === f.tables[k]) return depth;
  f.tables[k] = sure;
  return depthOf(f, k, x, y);
}

/** Where `touch` found a place. */
export const touching = { x: 0, y: 0 };

/** A place where the piece touches obstacle `k` with a corner in a corner, in `touching`; `share` from 0 to 1 says which. */
export function touch(f: Field, k: number, share: number): boolean {
  const corners = tableOf(f, k).corners;
  const n = corners.length / 2;
  if (n === 0) return false;
  const at = 2 * Math.min(n - 1, Math.floor(share * n));
  const u = corners[at]!;
  const w = corners[at + 1]!;
  const q = f.quarter[k]!;
  // The table is asked at the difference turned by q: here it is turned back.
  touching.x = f.fromX[k]! + (q === 0 ? u : q === 1 ? w : q === 2 ? -u : -w);
  touching.y = f.fromY[k]! + (q === 0 ? w : q === 1 ? -u : q === 2 ? -w : u);
  return true;
}

let evaluated = 0;

/** How many places have been held against what is near them since the module was loaded: for benchmarks. */
export const evaluations = (): number => evaluated;

/** What the piece's overlaps count at a place; gives up with some sum that is at least `cut`. 0 exactly where it is free. */
export function costAt(f: Field, x: number, y: number, cut: number): number {
  const { count, x0, y0, x1, y1, weight, floor } = f;
  evaluated++;
  let sum = 0;
  for (let k = 0; k < count; k++) {
    if (x <= x0[k]! || x >= x1[k]! || y <= y0[k]! || y >= y1[k]!) continue;
    const depth = depthOf(f, k, x, y);
    if (depth === 0) continue;
    sum += weight[k]! * (depth + floor);
    if (sum >= cut) return sum;
  }
  return sum;
}
