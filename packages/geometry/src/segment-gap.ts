import { distance, type Point } from './point.js';
import type { ArcSegment, LineSegment, Segment } from './ring.js';
import { arcHolds } from './segment-course.js';
import { nearestOnSegment, pointSegmentDistance } from './segment-distance.js';
import { segmentIntersections } from './segment-intersections.js';

/** The least distance between two segments, mm; 0 where they cross or touch (within 0.0000001 mm). Exact for arcs. */
export function segmentsDistance(a: Segment, b: Segment): number {
  // Where two curves that do not meet are nearest, either an end is one of the two places, or both are on a
  // common normal: through the centre of an arc square to a line, or through the centres of two arcs.
  let least = Math.min(
    pointSegmentDistance(b, a.from),
    pointSegmentDistance(b, a.to),
    pointSegmentDistance(a, b.from),
    pointSegmentDistance(a, b.to),
  );
  if (a.kind === 'arc' && b.kind === 'arc')
    least = Math.min(least, throughCentres(a, b), throughCentres(b, a));
  else if (a.kind === 'arc') least = Math.min(least, throughCentre(b as LineSegment, a));
  else if (b.kind === 'arc') least = Math.min(least, throughCentre(a, b));
  return segmentIntersections(a, b).length > 0 ? 0 : least;
}

const throughCentre = (l: LineSegment, arc: ArcSegment): number =>
  pointSegmentDistance(arc, nearestOnSegment(l, arc.centre));

function throughCentres(a: ArcSegment, b: ArcSegment): number {
  const d = distance(a.centre, b.centre);
  if (d === 0) return Infinity;
  const ux = (b.centre.x - a.centre.x) / d;
  const uy = (b.centre.y - a.centre.y) / d;
  let least = Infinity;
  for (const r of [a.radius, -a.radius]) {
    const p: Point = { x: a.centre.x + r * ux, y: a.centre.y + r * uy };
    if (arcHolds(a, p.x, p.y)) least = Math.min(least, pointSegmentDistance(b, p));
  }
  return least;
}
