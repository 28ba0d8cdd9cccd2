import Flatbush from 'flatbush';
import type { Segment } from './ring.js';
import { type Box, segmentBounds } from './ring-bounds.js';

/** Answers which of many boxes meet a box; `visit` returns true to stop. */
export interface BoxIndex {
  search(box: Box, visit: (index: number) => boolean): boolean;
}

/** Up to this many boxes a plain loop beats building and walking a tree (measured). */
const FEW = 48;

/** An index over boxes given by number; visits are in no particular order for many, rising for few. */
export function indexBoxes(boxes: readonly Box[]): BoxIndex {
  if (boxes.length <= FEW) {
    return {
      search(q, visit) {
        for (let i = 0; i < boxes.length; i++) {
          const b = boxes[i]!;
          if (b.minX <= q.maxX && b.maxX >= q.minX && b.minY <= q.maxY && b.maxY >= q.minY && visit(i))
            return true;
        }
        return false;
      },
    };
  }
  const tree = new Flatbush(boxes.length);
  for (const b of boxes) tree.add(b.minX, b.minY, b.maxX, b.maxY);
  tree.finish();
  return {
    search(q, visit) {
      let stopped = false;
      tree.search(q.minX, q.minY, q.maxX, q.maxY, (i) => {
        if (!stopped) stopped = visit(i);
        return false;
      });
      return stopped;
    },
  };
}

/** An index over segments by their boxes. */
export const indexSegments = (segments: readonly Segment[]): BoxIndex =>
  indexBoxes(segments.map(segmentBounds));

/** A box wider by `by` on every side. mm */
export const widenBox = (b: Box, by: number): Box => ({
  minX: b.minX - by,
  minY: b.minY - by,
  maxX: b.maxX + by,
  maxY: b.maxY + by,
});
