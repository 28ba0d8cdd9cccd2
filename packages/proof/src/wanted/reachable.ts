import { type Clip, flattenRing, type Point, type Polygon } from '@haunch/geometry';
import { insidePolygon } from '../sweep/sweeper.js';
import type { WantedContour } from './wanted-contour.js';

const FINE = 0.0005;

/** Which places of the air round or in a contour a cutter of a radius cannot get to: unrelieved inside corners. */
export interface Reachable {
  /** Whether the place lies in (or within `slack` mm of) what the cutter must leave standing. */
  leftInCorner(p: Point): boolean;
}

/**
 * The air of a contour that a disc cannot reach: what opening by the disc takes away from it. A contour that the
 * cutter cannot enter at all excuses nothing.
 */
export function reachable(clip: Clip, contour: WantedContour, radius: number, slack: number): Reachable {
  const ring = [flattenRing(contour.ring, { tolerance: FINE })];
  const contains = (polygons: readonly Polygon[], p: Point): boolean =>
    polygons.filter((q) => insidePolygon(q, p)).length % 2 === 1;
  if (contour.kind === 'outline') {
    const closed = clip.grow(clip.grow(ring, radius, FINE), slack - radius, FINE);
    return { leftInCorner: (p) => contains(closed, p) };
  }
  const inner = clip.grow(ring, -radius, FINE);
  if (inner.length === 0) return { leftInCorner: () => false };
  const opened = clip.grow(inner, radius - slack, FINE);
  return { leftInCorner: (p) => !contains(opened, p) };
}
