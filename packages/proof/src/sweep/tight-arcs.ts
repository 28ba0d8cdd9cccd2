import { chordCount, type Point, type Polygon } from '@haunch/geometry';
import type { Curve } from './merge-tracks.js';

type Arc = Extract<Curve, { readonly kind: 'arc' }>;

/** Arcs up to this many cutter radii are swept by themselves. */
const TIGHT = 1.2;

/** Points of a circle over a sweep, both ends included. */
function arcPoints(c: Point, r: number, start: number, sweep: number, tolerance: number): Point[] {
  const n = chordCount(r, sweep, tolerance);
  return Array.from({ length: n + 1 }, (_, i): Point => {
    const a = start + (sweep * i) / n;
    return { x: c.x + r * Math.cos(a), y: c.y + r * Math.sin(a) };
  });
}

/**
 * Whether an arc is so tight that the inner side of its offset would be folded many times over itself: a polygon
 * kernel then meets each chord with each other.
 */
export const isTight = (c: Curve, radius: number): c is Arc => c.kind === 'arc' && c.r <= TIGHT * radius;

/**
 * What a cutter sweeps along a tight arc, without its two ends: the ring sector between r − radius and r + radius,
 * which is a whole sector where the cutter covers the arc's centre (every place of it within radius of the arc).
 */
export function sectorOf(c: Arc, radius: number, tolerance: number): Polygon[] {
  const outer = arcPoints(c.centre, c.r + radius, c.start, c.sweep, tolerance);
  const full = c.sweep > 2 * Math.PI - 1e-9;
  const inner = c.r - radius;
  if (full) {
    outer.pop();
    if (inner <= 0) return [outer];
    const hole = arcPoints(c.centre, inner, c.start, c.sweep, tolerance);
    hole.pop();
    return [outer, hole.reverse()];
  }
  if (inner <= 0) return [[...outer, c.centre]];
  return [[...outer, ...arcPoints(c.centre, inner, c.start, c.sweep, tolerance).reverse()]];
}

/** The disc of a cutter at a place, corners on the circle. */
export function discAt(p: Point, radius: number, tolerance: number): Polygon {
  const points = arcPoints(p, radius, 0, 2 * Math.PI, tolerance);
  points.pop();
  return points;
}
