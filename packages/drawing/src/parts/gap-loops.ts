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

/** Places on an edge that must lie on neighbours' edges. */
const PLACES = [0.02, 0.25, 0.5, 0.75, 0.98] as const;

/**
 * Of the outlines, those that are only the air between neighbours which share their edges: no edge of such a one
 * borders on free space, it is a rectangle, and no wider than two thicknesses. Numbers of outlines.
 */
export function gapLoops(outlines: readonly Loop[], thickness: number): readonly number[] {
  const index = indexBoxes(outlines.map((l) => l.bounds));
  return outlines.flatMap((l, i) => {
    const width = rectangleWidth(l);
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

/** The shorter side of a rectangle, whichever way it is turned; null for any other shape. */
function rectangleWidth(l: Loop): number | null {
  const { vertices } = l.ring;
  if (vertices.some((v) => v.bulge !== 0)) return null;
  const corners = vertices.filter((v, i) => {
    const a = vertices[(i + vertices.length - 1) % vertices.length]!;
    const b = vertices[(i + 1) % vertices.length]!;
    const [ux, uy, wx, wy] = [v.x - a.x, v.y - a.y, b.x - v.x, b.y - v.y];
    return Math.abs(ux * wy - uy * wx) > 1e-3 * Math.hypot(ux, uy) * Math.hypot(wx, wy);
  });
  if (corners.length !== 4) return null;
  const [a, b, c, d] = corners as [
    (typeof corners)[0],
    (typeof corners)[0],
    (typeof corners)[0],
    (typeof corners)[0],
  ];
  const [w, h] = [Math.hypot(b.x - a.x, b.y - a.y), Math.hypot(c.x - b.x, c.y - b.y)];
  const diagonals = Math.abs(Math.hypot(c.x - a.x, c.y - a.y) - Math.hypot(d.x - b.x, d.y - b.y));
  return diagonals <= 0.01 ? Math.min(w, h) : null;
}
