import { indexSegments, widenBox } from './box-index.js';
import { clusterPoints } from './cluster-points.js';
import type { Point } from './point.js';
import type { Segment } from './ring.js';
import { segmentBounds } from './ring-bounds.js';
import { fractionAlong, pointAlong, segmentLength } from './segment-course.js';
import { segmentIntersections, TOUCH } from './segment-intersections.js';

/** A stretch of a curve between two numbered nodes, from where to where on it (fractions). */
export interface Stretch {
  readonly curve: number;
  readonly start: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Splits curves wherever they meet or end. Points nearer than `coincide` mm are one node, and a stretch between
 * a node and itself is left out, but for a curve that comes back to where it started, which gets a node in its
 * middle. `extra` are further fractions at which to split each curve. `points` are the places of the nodes.
 */
export function splitCurves(
  curves: readonly Segment[],
  coincide: number,
  extra?: (curve: number) => readonly number[],
): { readonly stretches: Stretch[]; readonly points: readonly Point[] } {
  const boxes = curves.map(segmentBounds);
  const index = indexSegments(curves);
  const points: Point[] = [];
  const cuts: { at: number; point: number }[][] = curves.map((c) => {
    points.push(c.from, c.to);
    return [
      { at: 0, point: points.length - 2 },
      { at: 1, point: points.length - 1 },
    ];
  });
  for (let i = 0; i < curves.length; i++) {
    for (const at of extra?.(i) ?? []) {
      points.push(pointAlong(curves[i]!, at));
      cuts[i]!.push({ at, point: points.length - 1 });
    }
    index.search(widenBox(boxes[i]!, TOUCH), (j) => {
      if (j <= i) return false;
      for (const p of segmentIntersections(curves[i]!, curves[j]!)) {
        points.push(p);
        cuts[i]!.push({ at: fractionAlong(curves[i]!, p), point: points.length - 1 });
        cuts[j]!.push({ at: fractionAlong(curves[j]!, p), point: points.length - 1 });
      }
      return false;
    });
  }
  const nodeOf = clusterPoints(points, coincide);
  const stretches: Stretch[] = [];
  for (let i = 0; i < curves.length; i++) {
    const along = cuts[i]!.sort((a, b) => a.at - b.at || a.point - b.point);
    const length = segmentLength(curves[i]!);
    for (let k = 0; k + 1 < along.length; k++) {
      const a = along[k]!;
      const b = along[k + 1]!;
      const from = nodeOf[a.point]!;
      const to = nodeOf[b.point]!;
      if (from !== to) stretches.push({ curve: i, start: a.at, end: b.at, from, to });
      else if ((b.at - a.at) * length > coincide) {
        // All but a full circle: a node in its middle keeps it two pieces.
        const half = (a.at + b.at) / 2;
        points.push(pointAlong(curves[i]!, half));
        stretches.push({ curve: i, start: a.at, end: half, from, to: points.length - 1 });
        stretches.push({ curve: i, start: half, end: b.at, from: points.length - 1, to });
      }
    }
  }
  return { stretches, points };
}
