import { type Point, pointAlong, segmentLength } from '@haunch/geometry';
import type { Field } from './as-cut-board.js';
import type { Level } from './sweep/level.js';
import { intoAir, openOver, type WantedContour } from './wanted/wanted-contour.js';

/** A contour that is not cut at all over some slab. */
export interface MissingCut {
  readonly contour: WantedContour;
  readonly level: Level;
  readonly at: Point;
}

/** How far from its contour a cut is asked for, mm. */
const OUT = 0.6;
/** About as many places are asked along a contour, and none much nearer to the next than this, mm. */
const PLACES = 24;
const APART = 8;

/**
 * Places in the air beside a contour, spread over its length: of each edge as many as it is long, since tabs stand in the middle
 * of edges. The longest edges come first, and short ones are left out where there are many.
 */
function beside(contour: WantedContour): Point[] {
  const all = contour.segments.map((segment) => ({ segment, length: segmentLength(segment) }));
  const round = all.reduce((sum, { length }) => sum + length, 0);
  const step = Math.max(round / PLACES, APART);
  return all
    .sort((a, b) => b.length - a.length)
    .flatMap(({ segment, length }) => {
      const count = Math.max(1, Math.floor(length / step));
      return Array.from({ length: count }, (_, k): Point => {
        const t = pointAlong(segment, (k + 0.5) / count);
        const air = intoAir(contour, segment, t);
        return { x: t.x + air.x * OUT, y: t.y + air.y * OUT };
      });
    })
    .slice(0, PLACES);
}

/**
 * Contours of which more than half of the places beside them still stand: never cut, or not to their depth. The
 * highest slab of those that stand from below speaks. Asked of the exact sweep.
 */
export function missingCuts(
  contours: readonly WantedContour[],
  field: Field,
  tolerance: number,
): MissingCut[] {
  return contours.flatMap((contour): MissingCut[] => {
    const places = beside(contour);
    let found: MissingCut | undefined;
    for (const level of field.levels) {
      if (openOver(contour, level, tolerance) !== true) continue;
      const removed = field.at(level.at);
      const left = places.filter((p) => removed.removed(p) > 0);
      if (left.length * 2 <= places.length) break;
      found = { contour, level, at: left[0]! };
    }
    return found ? [found] : [];
  });
}
