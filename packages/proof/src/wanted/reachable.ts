import {
  type Clip,
  flattenRing,
  type Point,
  type Polygon,
  pointInRing,
  pointRingDistance,
} from '@haunch/geometry';
import { insidePolygon } from '../sweep/sweeper.js';
import type { WantedContour } from './wanted-contour.js';

const FINE = 0.0005;

/** Which places of the air round or in a contour a cutter of a radius cannot get to: unrelieved inside corners. */
export interface Reachable {
  /** Whether the place lies in (or within `slack` mm of) what the cutter must leave standing. */
  leftInCorner(p: Point): boolean;
}

/** A recess whose edge lies no deeper in the part than this runs out over the part's edge, mm. */
const ON_EDGE = 0.02;

/** The air of a recess, and where it runs out over the part's edge the air beyond that edge as well. */
function airOf(clip: Clip, contour: WantedContour, radius: number, outline: WantedContour | undefined) {
  const ring = [flattenRing(contour.ring, { tolerance: FINE })];
  const runsOut =
    outline !== undefined &&
    contour.segments.some(
      (s) =>
        pointInRing(outline.ring, s.from) !== 'inside' || pointRingDistance(outline.ring, s.from) <= ON_EDGE,
    );
  if (!runsOut) return ring;
  const part = clip.grow([flattenRing(outline.ring, { tolerance: FINE })], -ON_EDGE, FINE);
  const beyond = clip.difference(clip.grow(part, 3 * radius + ON_EDGE, FINE), part);
  return clip.union([...ring, ...beyond]);
}

/**
 * The air of a contour that a disc cannot reach: what opening by the disc takes away from it. A contour that the
 * cutter cannot enter at all excuses nothing. A recess that runs out over its part's `outline` is reached from there.
 */
export function reachable(
  clip: Clip,
  contour: WantedContour,
  radius: number,
  slack: number,
  outline?: WantedContour,
): Reachable {
  const contains = (polygons: readonly Polygon[], p: Point): boolean =>
    polygons.filter((q) => insidePolygon(q, p)).length % 2 === 1;
  if (contour.kind === 'outline') {
    const ring = [flattenRing(contour.ring, { tolerance: FINE })];
    const closed = clip.grow(clip.grow(ring, radius, FINE), slack - radius, FINE);
    return { leftInCorner: (p) => contains(closed, p) };
  }
  const inner = clip.grow(airOf(clip, contour, radius, outline), -radius, FINE);
  if (inner.length === 0) return { leftInCorner: () => false };
  const opened = clip.grow(inner, radius - slack, FINE);
  return { leftInCorner: (p) => !contains(opened, p) };
}
