import { distance, nearestOnSegment, type Point, type Segment } from '@haunch/geometry';
import { type Path, segmentLength, startAt } from './path.js';

/** The place of a path nearest to a point. mm */
export interface NearestPlace {
  readonly index: number;
  /** From the start of that segment. */
  readonly along: number;
  /** From the start of the path. */
  readonly total: number;
  readonly gap: number;
}

/** How far along a segment a point of it lies, mm. */
function alongOf(s: Segment, q: Point): number {
  const length = segmentLength(s);
  if (s.kind === 'line') return Math.min(length, distance(s.from, q));
  const turned =
    Math.atan2(q.y - s.centre.y, q.x - s.centre.x) - Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const full = 2 * Math.PI;
  const forward = (((s.sweep > 0 ? turned : -turned) % full) + full) % full;
  // Rounding at the start must not read as a full turn.
  return forward > full - 1e-9 ? 0 : Math.min(length, forward * s.radius);
}

/** The place of a path nearest to `p`; the first of equals. */
export function nearestOnPath(path: Path, p: Point): NearestPlace {
  let best: NearestPlace = { index: 0, along: 0, total: 0, gap: Infinity };
  let before = 0;
  path.forEach((s, index) => {
    const q = nearestOnSegment(s, p);
    const gap = distance(p, q);
    if (gap < best.gap - 1e-9) {
      const along = alongOf(s, q);
      best = { index, along, total: before + along, gap };
    }
    before += segmentLength(s);
  });
  return best;
}

/** The closed path started at its point nearest to `p`. */
export function startNearest(path: Path, p: Point): Path {
  const { index, along } = nearestOnPath(path, p);
  return startAt(path, index, along);
}
