import {
  type Motion,
  movePoint,
  type Point,
  pointInRing,
  pointRingDistance,
  ringBounds,
} from '@haunch/geometry';
import type { Part } from '@haunch/model';
import type { Field } from '../as-cut-board.js';
import { wantedContours } from '../wanted/wanted-contour.js';

/** Places along the longer side of a part that are asked for their depth. */
const PLACES = 24;
/** Nearer to a curve than this nothing is asked, mm. */
const BESIDE = 1;
/** Floors that differ by less are the same, mm. */
const SAME_FLOOR = 0.6;

/** A place of a part and how high its floor is wanted above the underside: null where nothing is cut. mm */
export interface WantedDepth {
  readonly p: Point;
  readonly depth: number | 'through' | null;
}

/** Places of a part with the depth wanted at each: a grid, and the middle of every hole and recess. */
export function wantedDepths(part: Part): WantedDepth[] {
  const contours = wantedContours(part, 0);
  const b = ringBounds(part.outline.ring);
  const pitch = Math.max(b.maxX - b.minX, b.maxY - b.minY) / PLACES;
  const places: Point[] = part.holes.map((h) => h.centre);
  for (const c of part.pockets) {
    const box = ringBounds(c.ring);
    places.push({ x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 });
  }
  for (let x = b.minX + pitch / 2; x < b.maxX; x += pitch)
    for (let y = b.minY + pitch / 2; y < b.maxY; y += pitch) places.push({ x, y });
  return places.flatMap((p): WantedDepth[] => {
    if (pointInRing(part.outline.ring, p) !== 'inside') return [];
    if (contours.some((c) => pointRingDistance(c.ring, p) < BESIDE)) return [];
    let depth: WantedDepth['depth'] = null;
    for (const c of contours.slice(1)) {
      if (pointInRing(c.ring, p) !== 'inside') continue;
      if (c.floor === null) depth = 'through';
      else if (depth !== 'through') depth = Math.max(depth ?? 0, -c.floor);
    }
    return [{ p, depth }];
  });
}

/** The share of a part's places at which the depth as cut is another than that wanted. */
export function depthMiss(wanted: readonly WantedDepth[], motion: Motion, field: Field, top: number): number {
  const { levels } = field;
  const last = levels.length - 1;
  if (wanted.length === 0 || last < 0) return 0;
  const isGone = (k: number, p: Point): boolean => field.at(levels[k]!.at).removed(p) < 0;
  let wrong = 0;
  for (const { p, depth } of wanted) {
    const q = movePoint(motion, p);
    if (!isGone(last, q)) {
      if (depth !== null && depth !== 'through') wrong++;
      continue;
    }
    if (depth === null) {
      wrong++;
      continue;
    }
    if (depth === 'through') continue;
    // What is removed only grows upwards, so the lowest slab that is removed is found by halving.
    let [low, high] = [-1, last];
    while (high - low > 1) {
      const mid = (low + high) >> 1;
      if (isGone(mid, q)) high = mid;
      else low = mid;
    }
    if (Math.abs(levels[high]!.low - (top - depth)) > SAME_FLOOR) wrong++;
  }
  return wrong / wanted.length;
}
