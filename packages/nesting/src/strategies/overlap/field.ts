import { type DepthTable, depthAt } from './depth-table.js';
import { ROW } from './pair-tables.js';
import type { Search } from './search.js';

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
  readonly tables: DepthTable[];
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
const BED_OBSTACLES = 64;

/** An empty field for `n` pieces. */
export function fieldFor(n: number): Field {
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
    who: new Int32Array(k),
    floor: 0,
    roomX0: 0,
    roomY0: 0,
    roomX1: 0,
    roomY1: 0,
  };
}

/** Part of a room: within `reach` of a place, along both axes. */
export interface Window {
  x: number;
  y: number;
  reach: number;
}

/**
 * Gathers the field of piece `i` as `variant` in room `r`, or in a window of it. Answers false where the room is too
 * small.
 */
export function gather(s: Search, i: number, variant: number, r: number, window?: Window): boolean {
  const f = s.field;
  const room = s.rooms[r]!;
  const v = s.variants[variant]!;
  f.roomX0 = room.x0;
  f.roomY0 = room.y0;
  f.roomX1 = room.x1 - v.width;
  f.roomY1 = room.y1 - v.height;
  f.floor = s.floor;
  f.count = 0;
  if (f.roomX1 < f.roomX0 || f.roomY1 < f.roomY0) return false;
  if (window) {
    f.roomX0 = Math.max(f.roomX0, window.x - window.reach);
    f.roomY0 = Math.max(f.roomY0, window.y - window.reach);
    f.roomX1 = Math.min(f.roomX1, window.x + window.reach);
    f.roomY1 = Math.min(f.roomY1, window.y + window.reach);
  }
  const n = s.pieces.length;
  const { x, y, variant: variants, room: rooms } = s.now;
  const root = s.roots[i]!;
  let k = 0;
  for (const { table } of s.tables.onBed(room.bed, variant)) {
    if (k >= BED_OBSTACLES) break;
    const { box } = table;
    f.x0[k] = box[0];
    f.y0[k] = box[1];
    f.x1[k] = box[2];
    f.y1[k] = box[3];
    f.fromX[k] = 0;
    f.fromY[k] = 0;
    f.quarter[k] = 0;
    f.weight[k] = root * root * s.bedWeights[i]!;
    f.tables[k] = table;
    f.who[k] = -1;
    k++;
  }
  const { numbers, quarters, tables } = s.tables.rowOf(variant);
  const { roomX0, roomY0, roomX1, roomY1 } = f;
  const { rooms: bedsOf } = s;
  const { roots, weights } = s;
  for (let j = 0; j < n; j++) {
    if (j === i || bedsOf[rooms[j]!]!.bed !== room.bed) continue;
    const fixed = variants[j]!;
    let table = tables[fixed];
    if (!table) {
      s.tables.between(fixed, variant);
      table = tables[fixed]!;
    }
    const at = ROW * fixed;
    const px = x[j]!;
    const py = y[j]!;
    const left = px + numbers[at]!;
    const low = py + numbers[at + 1]!;
    const right = px + numbers[at + 2]!;
    const high = py + numbers[at + 3]!;
    if (right <= roomX0 || left >= roomX1 || high <= roomY0 || low >= roomY1) continue;
    f.x0[k] = left;
    f.y0[k] = low;
    f.x1[k] = right;
    f.y1[k] = high;
    f.fromX[k] = px - numbers[at + 4]!;
    f.fromY[k] = py - numbers[at + 5]!;
    f.quarter[k] = quarters[fixed]!;
    f.weight[k] = root * roots[j]! * weights[i * n + j]!;
    f.tables[k] = table;
    f.who[k] = j;
    k++;
  }
  f.count = k;
  return true;
}

/** The depth of one obstacle at a place that is inside its box. */
export function depthOf(f: Field, k: number, x: number, y: number): number {
  const u = x - f.fromX[k]!;
  const w = y - f.fromY[k]!;
  const table = f.tables[k]!;
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

/** What the piece's overlaps count at a place; gives up with some sum that is at least `cut`. 0 exactly where it is free. */
export function costAt(f: Field, x: number, y: number, cut: number): number {
  const { count, x0, y0, x1, y1, weight, floor } = f;
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
