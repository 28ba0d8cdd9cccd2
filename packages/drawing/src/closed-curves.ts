import type { Ring } from '@haunch/geometry';
import { plainEntities } from './curves/plain-entities.js';
import type { Drawing } from './drawing.js';
import { collectLoops } from './parts/collect-loops.js';
import { strokeOf } from './parts/loose-segment.js';
import { type Repair, repairBook, type Stroke } from './parts/repair.js';

/** The closed curves that a drawing's lines make, and the runs that close nothing. mm */
export interface ClosedCurves {
  /** Counter-clockwise. */
  readonly rings: readonly Ring[];
  readonly open: readonly Stroke[];
  /** What was joined, removed and parted on the way; written down when it is asked for. */
  repairs(): readonly Repair[];
}

/**
 * Chains all lines of a drawing into closed curves, without asking what they mean: layers that are off, nesting and
 * borders are not looked at. Takes time of order n log n. `importDrawing` goes on from here.
 * @throws RangeError when `joinWithin` is not positive and finite.
 */
export function closedCurves(drawing: Drawing, options: { readonly joinWithin?: number } = {}): ClosedCurves {
  const { joinWithin } = options;
  if (joinWithin !== undefined && !(joinWithin > 0 && joinWithin < Infinity))
    throw new RangeError(`closedCurves: joinWithin ${joinWithin} must be positive`);
  const book = repairBook([]);
  const { loops, open } = collectLoops(plainEntities(drawing.entities).entities, joinWithin ?? null, book);
  return {
    rings: loops.map((l) => ({ vertices: l.ring.vertices.map(({ x, y, bulge }) => ({ x, y, bulge })) })),
    open: open.flatMap((r) => r.segments.map(strokeOf)),
    repairs: book.done,
  };
}
