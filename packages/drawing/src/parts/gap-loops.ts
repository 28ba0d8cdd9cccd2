import {
  indexBoxes,
  pointAlong,
  pointRingDistance,
  type Ring,
  ringSegments,
  widenBox,
} from '@haunch/geometry';
import { JOIN } from './join-ends.js';
import type { Loop } from './loop.js';

/** A gap between neighbours is at most this many thicknesses wide: two notches that face each other. */
const WIDEST = 2.05;

/** A gap has few corners, and a few where its neighbours' corners meet. */
const MOST_CORNERS = 24;

/** Places on an edge that must lie on neighbours' edges. */
const PLACES = [0.02, 0.25, 0.5, 0.75, 0.98] as const;

/**
 * Of the outlines, those that are only the air between neighbours which share their edges: no edge of such a one
 * borders on free space, it is straight-sided without inside corners, and no wider than two thicknesses. Numbers of
 * outlines.
 */
export function gapLoops(outlines: readonly Loop[], thickness: number): readonly number[] {
  const index = indexBoxes(outlines.map((l) => l.bounds));
  return outlines.flatMap((l, i) => {
    const width = l.ring.vertices.length > MOST_CORNERS ? null : leastWidth(l);
    if (width === null || width > WIDEST * thickness) return [];
    const neighbours: Ring[] = [];
    index.search(widenBox(l.bounds, JOIN), (j) => {
      if (j !== i) neighbours.push(outlines[j]!.ring);
      return false;
    });
    const enclosed = ringSegments(l.ring).every((s) =>
      PLACES.every((f) => neighbours.some((r) => pointRingDistance(r, pointAlong(s, f)) <= JOIN)),
    );
    return enclosed ? [i] : [];
  });
}

/** The least width of a straight-sided contour without inside corners, whichever way it is turned; else null. */
function leastWidth({ ring: { vertices } }: Loop): number | null {
  const n = vertices.length;
  if (vertices.some((v) => v.bulge !== 0)) return null;
  let least = Infinity;
  for (const [i, a] of vertices.entries()) {
    const b = vertices[(i + 1) % n]!;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    let most = 0;
    for (const v of vertices) {
      const off = ((b.x - a.x) * (v.y - a.y) - (b.y - a.y) * (v.x - a.x)) / length;
      // The ring is counter-clockwise, so that a corner to the right of an edge is an inside corner.
      if (off < -JOIN) return null;
      most = Math.max(most, off);
    }
    least = Math.min(least, most);
  }
  return least;
}
