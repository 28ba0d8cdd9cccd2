import { distance, type Point } from '@haunch/geometry';
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
/** The most places that are asked along a contour. */
const PLACES = 24;

/** Places in the air beside a contour, spread over its length. */
function beside(contour: WantedContour): Point[] {
  const all = contour.segments.map((s): { p: Point; length: number } => {
    const t =
      s.kind === 'line'
        ? { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 }
        : middleOfArc(
            s.centre,
            s.radius,
            Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep / 2,
          );
    const air = intoAir(contour, s, t);
    return {
      p: { x: t.x + air.x * OUT, y: t.y + air.y * OUT },
      length: s.kind === 'line' ? distance(s.from, s.to) : s.radius * Math.abs(s.sweep),
    };
  });
  return all
    .sort((a, b) => b.length - a.length)
    .slice(0, PLACES)
    .map((a) => a.p);
}

const middleOfArc = (c: Point, r: number, a: number): Point => ({
  x: c.x + r * Math.cos(a),
  y: c.y + r * Math.sin(a),
});

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
