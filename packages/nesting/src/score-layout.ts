import { type Box, moveRing, ringArea, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import { missingOf } from './missing-of.js';

/**
 * How good a layout is; compared in this order. `unplacedArea`: outline area of the items without room, mm².
 * `extent`: area taken of the boards, each by its cost, mm²: all of every board that bears an item, less the widest strip that
 * one straight cut leaves whole at an end of one of them; so full boards count whole and the last one by its used
 * part. `remnant`: area of the largest rectangle on a board that bears items, clear of item boxes and keep-outs
 * by the spacing, mm², and within its outline; greater is better.
 */
export interface Score {
  readonly unplacedArea: number;
  readonly extent: number;
  readonly remnant: number;
}

/** Scores are rounded to this share of a mm²: far below a grid step times a part's length. */
const AREA_STEPS = 1e6;

const rounded = (area: number): number => Math.round(area * AREA_STEPS) / AREA_STEPS;

/**
 * Which score is better: negative when `a` is, positive when `b` is, 0 when neither. A total order: areas are
 * rounded to 10⁻⁶ mm² when scored.
 */
export const compareScores = (a: Score, b: Score): number =>
  a.unplacedArea - b.unplacedArea || a.extent - b.extent || b.remnant - a.remnant;

const grow = (b: Box, by: number): Box => ({
  minX: b.minX - by,
  minY: b.minY - by,
  maxX: b.maxX + by,
  maxY: b.maxY + by,
});

/** Adds a band that has a height and is not there yet. */
function addBand(bands: number[], lo: number, hi: number): void {
  if (hi <= lo) return;
  for (let k = 0; k < bands.length; k += 2) if (bands[k] === lo && bands[k + 1] === hi) return;
  bands.push(lo, hi);
}

/**
 * The largest axis-parallel rectangle within `room` that no box reaches into, the first found of equal ones; undefined where there is none. The sweep from each
 * left edge narrows the free height as boxes come (A. Naamad, D. T. Lee & W.-L. Hsu, "On the maximum empty
 * rectangle problem", Discrete Applied Mathematics 8, 1984): O(n²).
 */
export function largestEmptyRectangle(room: Box, boxes: readonly Box[]): Box | undefined {
  const byLeft = [...boxes].sort(
    (a, b) => a.minX - b.minX || a.minY - b.minY || a.maxX - b.maxX || a.maxY - b.maxY,
  );
  let most = 0;
  let best: Box | undefined;
  const take = (minX: number, minY: number, maxX: number, maxY: number): void => {
    const area = maxX > minX && maxY > minY ? (maxX - minX) * (maxY - minY) : 0;
    if (area <= most) return;
    most = area;
    best = { minX, minY, maxX, maxY };
  };
  // Rectangles whose left side lies on the room's left or on a box's right; each box then caps the right side
  // once for every band of heights that is still open.
  for (const left of [room.minX, ...boxes.map((b) => b.maxX)]) {
    if (left >= room.maxX) continue;
    // Free heights, low and high in turn, each once.
    let bands = [room.minY, room.maxY];
    for (const b of byLeft) {
      if (b.maxX <= left || b.minX >= room.maxX) continue;
      const next: number[] = [];
      for (let k = 0; k < bands.length; k += 2) {
        const lo = bands[k]!;
        const hi = bands[k + 1]!;
        if (b.maxY <= lo || b.minY >= hi) addBand(next, lo, hi);
        else {
          take(left, lo, b.minX, hi);
          addBand(next, lo, Math.min(hi, b.minY));
          addBand(next, Math.max(lo, b.maxY), hi);
        }
      }
      bands = next;
    }
    for (let k = 0; k < bands.length; k += 2) take(left, bands[k]!, room.maxX, bands[k + 1]!);
  }
  return best;
}

/**
 * The score of a layout. Judges nothing: placements of unknown items or on unknown boards are passed over.
 * Each area is rounded to 10⁻⁶ mm².
 */
export function scoreLayout(instance: NestingInstance, layout: Layout): Score {
  const items = new Map(instance.items.map((i) => [i.id, i]));
  const placed = new Set(layout.placements.map((p) => p.item));
  let unplacedArea = 0;
  for (const item of instance.items)
    if (!placed.has(item.id)) unplacedArea += Math.abs(ringArea(item.outline));
  let used = 0;
  let spare = 0;
  let remnant = 0;
  for (const board of instance.boards) {
    const boxes = layout.placements.flatMap((p) => {
      const item = p.board === board.id ? items.get(p.item) : undefined;
      return item ? [ringBounds(moveRing(p.motion, item.outline))] : [];
    });
    if (boxes.length === 0) continue;
    const b = ringBounds(board.outline);
    const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
    const cost = board.cost ?? 1;
    used += w * h * cost;
    spare = Math.max(
      spare,
      (b.maxX - Math.max(...boxes.map((x) => x.maxX))) * h * cost,
      (Math.min(...boxes.map((x) => x.minX)) - b.minX) * h * cost,
      (b.maxY - Math.max(...boxes.map((x) => x.maxY))) * w * cost,
      (Math.min(...boxes.map((x) => x.minY)) - b.minY) * w * cost,
    );
    const taken = [...boxes, ...board.keepOuts.map(ringBounds)].map((x) => grow(x, instance.spacing));
    taken.push(...missingOf(board.outline));
    const empty = largestEmptyRectangle(b, taken);
    if (empty) remnant = Math.max(remnant, (empty.maxX - empty.minX) * (empty.maxY - empty.minY));
  }
  return { unplacedArea: rounded(unplacedArea), extent: rounded(used - spare), remnant: rounded(remnant) };
}
