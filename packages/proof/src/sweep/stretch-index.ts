import type { Box } from '@haunch/geometry';
import { remember } from '../joints/remember.js';
import { lowest, type Stretch } from './stretch.js';

/** Finds the stretches that may touch a place, in the order in which they are run. */
export interface StretchIndex {
  /**
   * Visits, in order, the stretches whose cutter comes near a box (mm) with its tip at or below a height; those nearby
   * that do not may be visited too. Stops when `visit` returns true.
   */
  search(box: Box, height: number, visit: (s: Stretch) => boolean): void;
}

/** Stretches, and then boxes, in one box of the next larger size. */
const FAN = 8;
/** Figures of a box: least and most x, least and most y, least height. */
const SIZE = 5;

/** Grows box `i` of a layer by figures. */
function grow(layer: Float64Array, i: number, [x0, x1, y0, y1, z]: readonly number[]): void {
  const at = i * SIZE;
  if (x0! < layer[at]!) layer[at] = x0!;
  if (x1! > layer[at + 1]!) layer[at + 1] = x1!;
  if (y0! < layer[at + 2]!) layer[at + 2] = y0!;
  if (y1! > layer[at + 3]!) layer[at + 3] = y1!;
  if (z! < layer[at + 4]!) layer[at + 4] = z!;
}

function emptyLayer(boxes: number): Float64Array {
  const layer = new Float64Array(boxes * SIZE);
  for (let i = 0; i < boxes; i++) layer.set([Infinity, -Infinity, Infinity, -Infinity, Infinity], i * SIZE);
  return layer;
}

/** The ground that the cutter may touch on a stretch. */
function reachOf(s: Stretch): readonly number[] {
  const c = s.centre ?? s.from;
  const r =
    s.centre === null
      ? 0
      : Math.max(Math.hypot(s.from.x - c.x, s.from.y - c.y), Math.hypot(s.to.x - c.x, s.to.y - c.y));
  const { radius } = s;
  return [
    Math.min(s.from.x, s.to.x, c.x - r) - radius,
    Math.max(s.from.x, s.to.x, c.x + r) + radius,
    Math.min(s.from.y, s.to.y, c.y - r) - radius,
    Math.max(s.from.y, s.to.y, c.y + r) + radius,
    lowest(s),
  ];
}

/**
 * An index over the order of execution itself: neighbours in a program are neighbours on the sheet, so that boxes round
 * runs of stretches are small, and what is found is in order without sorting. Made once for an array.
 */
export const stretchIndex = remember((stretches: readonly Stretch[]): StretchIndex => {
  const layers: Float64Array[] = [];
  let first = emptyLayer(Math.ceil(stretches.length / FAN));
  stretches.forEach((s, i) => {
    grow(first, Math.floor(i / FAN), reachOf(s));
  });
  layers.push(first);
  while (first.length > SIZE * FAN) {
    const count = first.length / SIZE;
    const next = emptyLayer(Math.ceil(count / FAN));
    for (let i = 0; i < count; i++)
      grow(next, Math.floor(i / FAN), [...first.subarray(i * SIZE, (i + 1) * SIZE)]);
    layers.push(next);
    first = next;
  }
  const search: StretchIndex['search'] = (box, height, visit) => {
    /** Goes through boxes of a layer; true when the visitor has had enough. */
    const within = (depth: number, from: number, to: number): boolean => {
      const layer = layers[depth]!;
      for (let i = from; i < to; i++) {
        const at = i * SIZE;
        if (
          !(
            layer[at]! <= box.maxX &&
            layer[at + 1]! >= box.minX &&
            layer[at + 2]! <= box.maxY &&
            layer[at + 3]! >= box.minY &&
            layer[at + 4]! <= height
          )
        )
          continue;
        const [begin, end] = [i * FAN, (i + 1) * FAN];
        if (depth > 0) {
          if (within(depth - 1, begin, Math.min(end, layers[depth - 1]!.length / SIZE))) return true;
        } else
          for (let k = begin; k < end && k < stretches.length; k++) if (visit(stretches[k]!)) return true;
      }
      return false;
    };
    within(layers.length - 1, 0, first.length / SIZE);
  };
  return { search };
});
