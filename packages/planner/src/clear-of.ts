import {
  type Box,
  type Point,
  pointSegmentDistance,
  type Ring,
  ringSegments,
  type Segment,
  segmentBounds,
} from '@haunch/geometry';
import { pointAlong, segmentLength } from './path.js';

/** Curves to stay away from, prepared for many questions. */
export interface Obstacle {
  readonly pieces: readonly { readonly segment: Segment; readonly box: Box }[];
}

const boxDistance = (b: Box, p: Point): number =>
  Math.hypot(Math.max(b.minX - p.x, 0, p.x - b.maxX), Math.max(b.minY - p.y, 0, p.y - b.maxY));

export const obstacleOf = (rings: readonly Ring[]): Obstacle => ({
  pieces: rings.flatMap(ringSegments).map((segment) => ({ segment, box: segmentBounds(segment) })),
});

/** The distance from a point to the nearest of the curves, mm; Infinity when there are none. */
export function distanceTo(o: Obstacle, p: Point): number {
  let best = Infinity;
  for (const { segment, box } of o.pieces)
    if (boxDistance(box, p) < best) best = Math.min(best, pointSegmentDistance(segment, p));
  return best;
}

/** Steps are never shorter than this, so a place nearer than wanted by half of it could be missed. mm */
const SHORTEST_STEP = 0.02;

/**
 * The place where a stretch comes nearer than `least` mm to the curves; undefined when it never does. The
 * distance to a curve changes no faster than one walks, so each step may be as long as the room to spare.
 */
export function tooNear(run: Segment, o: Obstacle, least: number): { at: Point; gap: number } | undefined {
  if (o.pieces.length === 0) return undefined;
  const length = segmentLength(run);
  for (let along = 0; ; ) {
    const at = pointAlong(run, along);
    const gap = distanceTo(o, at);
    if (gap < least) return { at, gap };
    if (along >= length) return undefined;
    along = Math.min(length, along + Math.max(gap - least, SHORTEST_STEP));
  }
}

export const staysClear = (run: readonly Segment[], o: Obstacle, least: number): boolean =>
  run.every((s) => tooNear(s, o, least) === undefined);
