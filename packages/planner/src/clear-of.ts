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

/** The square of the distance from a point to a box: roots are taken only where a curve is asked. */
const boxSquare = (b: Box, p: Point): number => {
  const dx = Math.max(b.minX - p.x, 0, p.x - b.maxX);
  const dy = Math.max(b.minY - p.y, 0, p.y - b.maxY);
  return dx * dx + dy * dy;
};

export const obstacleOf = (rings: readonly Ring[]): Obstacle => ({
  rings: rings.map((r) => ({
    box: ringBounds(r),
    pieces: ringSegments(r).map((segment) => ({ segment, box: segmentBounds(segment) })),
  })),
});

/** All of them as one; they share what was prepared. */
export const together = (all: readonly Obstacle[]): Obstacle => ({ rings: all.flatMap((o) => o.rings) });

/** The distance to the nearest of these pieces where that is less than `best`, else `best`. */
function nearer(pieces: readonly Piece[], p: Point, best: number): number {
  let least = best;
  let square = best * best;
  for (const { segment, box } of pieces) {
    if (boxSquare(box, p) >= square) continue;
    const d = pointSegmentDistance(segment, p);
    if (d < least) {
      least = d;
      square = d * d;
    }
  }
  return least;
}

/** The distance from a point to the nearest of the curves, mm; Infinity when there are none. */
export function distanceTo({ rings }: Obstacle, p: Point): number {
  // The ring with the nearest box first, so that most others are passed over.
  let nearest = -1;
  let gap = Infinity;
  for (let i = 0; i < rings.length && gap > 0; i++) {
    const d = boxSquare(rings[i]!.box, p);
    if (d < gap) [nearest, gap] = [i, d];
  }
  if (nearest < 0) return Infinity;
  let best = nearer(rings[nearest]!.pieces, p, Infinity);
  for (let i = 0; i < rings.length; i++)
    if (i !== nearest && boxSquare(rings[i]!.box, p) < best * best) best = nearer(rings[i]!.pieces, p, best);
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

/** Whether two boxes lie at least `least` mm from each other. */
export function boxesApart(a: Box, b: Box, least: number): boolean {
  const dx = Math.max(b.minX - a.maxX, 0, a.minX - b.maxX);
  const dy = Math.max(b.minY - a.maxY, 0, a.minY - b.maxY);
  return dx * dx + dy * dy >= least * least;
}

/** Whether every stretch keeps at least `least` mm away from the curves; exact, and most curves only by their boxes. */
export const staysClear = (run: readonly Segment[], o: Obstacle, least: number): boolean =>
  run.every((s) => {
    const box = segmentBounds(s);
    return o.rings.every(
      (r) =>
        boxesApart(r.box, box, least) ||
        r.pieces.every((p) => boxesApart(p.box, box, least) || segmentsDistance(s, p.segment) >= least),
    );
  });
