import {
  type Box,
  type Point,
  pointSegmentDistance,
  type Ring,
  ringBounds,
  ringSegments,
  type Segment,
  segmentBounds,
  segmentsDistance,
} from '@haunch/geometry';
import { pointAlong, segmentLength } from './path.js';

interface Piece {
  readonly segment: Segment;
  readonly box: Box;
}

/** Curves to stay away from, prepared for many questions: whole rings are passed over by their boxes. */
export interface Obstacle {
  readonly rings: readonly { readonly box: Box; readonly pieces: readonly Piece[] }[];
}

const boxDistance = (b: Box, p: Point): number =>
  Math.hypot(Math.max(b.minX - p.x, 0, p.x - b.maxX), Math.max(b.minY - p.y, 0, p.y - b.maxY));

export const obstacleOf = (rings: readonly Ring[]): Obstacle => ({
  rings: rings.map((r) => ({
    box: ringBounds(r),
    pieces: ringSegments(r).map((segment) => ({ segment, box: segmentBounds(segment) })),
  })),
});

/** The distance from a point to the nearest of the curves, mm; Infinity when there are none. */
export function distanceTo(o: Obstacle, p: Point): number {
  let best = Infinity;
  const look = (pieces: readonly Piece[]) => {
    for (const { segment, box } of pieces)
      if (boxDistance(box, p) < best) best = Math.min(best, pointSegmentDistance(segment, p));
  };
  // The ring with the nearest box first, so that most others are passed over.
  let nearest = -1;
  let gap = Infinity;
  o.rings.forEach((r, i) => {
    const d = boxDistance(r.box, p);
    if (d < gap) [nearest, gap] = [i, d];
  });
  if (nearest >= 0) look(o.rings[nearest]!.pieces);
  o.rings.forEach((r, i) => {
    if (i !== nearest && boxDistance(r.box, p) < best) look(r.pieces);
  });
  return best;
}

/** Steps are never shorter than this, so a place nearer than wanted by half of it could be missed. mm */
const SHORTEST_STEP = 0.02;

/**
 * The place where a stretch comes nearer than `least` mm to the curves; undefined when it never does. The
 * distance to a curve changes no faster than one walks, so each step may be as long as the room to spare.
 */
export function tooNear(run: Segment, o: Obstacle, least: number): { at: Point; gap: number } | undefined {
  if (o.rings.length === 0) return undefined;
  const length = segmentLength(run);
  for (let along = 0; ; ) {
    const at = pointAlong(run, along);
    const gap = distanceTo(o, at);
    if (gap < least) return { at, gap };
    if (along >= length) return undefined;
    along = Math.min(length, along + Math.max(gap - least, SHORTEST_STEP));
  }
}

const boxGap = (a: Box, b: Box): number =>
  Math.hypot(Math.max(b.minX - a.maxX, 0, a.minX - b.maxX), Math.max(b.minY - a.maxY, 0, a.minY - b.maxY));

/** Whether every stretch keeps at least `least` mm away from the curves; exact, and most curves only by their boxes. */
export const staysClear = (run: readonly Segment[], o: Obstacle, least: number): boolean =>
  run.every((s) => {
    const box = segmentBounds(s);
    return o.rings.every(
      (r) =>
        boxGap(r.box, box) >= least ||
        r.pieces.every((p) => boxGap(p.box, box) >= least || segmentsDistance(s, p.segment) >= least),
    );
  });
