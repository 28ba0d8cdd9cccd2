import { BED_OBSTACLES } from './field.js';
import { ROW } from './pair-tables.js';
import type { Search } from './search.js';

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
  f.near = window !== undefined;
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
  const { known, numbers, quarters, tables } = s.tables.rowOf(variant);
  f.moving = variant;
  const { roomX0, roomY0, roomX1, roomY1 } = f;
  const { roots, weights } = s;
  for (let j = 0; j < n; j++) {
    if (j === i || rooms[j] !== r) continue;
    const fixed = variants[j]!;
    if (!known[fixed]) s.tables.learn(fixed, variant);
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
    f.tables[k] = tables[fixed];
    f.fixed[k] = fixed;
    f.who[k] = j;
    k++;
  }
  f.count = k;
  return true;
}
