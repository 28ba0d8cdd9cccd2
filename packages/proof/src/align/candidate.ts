import type { Field } from '../as-cut-board.js';
import { depthMiss, type WantedDepth, wantedDepths } from './depth-check.js';
import { type PartShape, shapeOf } from './part-shape.js';
import { findPoses, type Pose } from './pose.js';
import type { StandingPiece } from './standing-pieces.js';

/** A part in a pose on a piece, and what it costs to believe it: 0 where everything agrees. */
export interface Candidate {
  readonly pose: Pose;
  readonly cost: number;
}

/** A shape with the depths wanted over it. */
export interface KnownShape {
  readonly shape: PartShape;
  readonly depths: readonly WantedDepth[];
}

/** What a shape is known by. */
export const knownShape = (part: PartShape['part']): KnownShape => ({
  shape: shapeOf(part),
  depths: wantedDepths(part),
});

/** Areas that differ by more than this share are not the same piece. */
export const SAME_AREA = 0.15;
/** The least share of a contour that must be met. */
export const LEAST_SHARE = 0.5;
/** How much another area speaks against a pose. */
const AREA_COST = 0.5;

/** The share by which a piece's area differs from a shape's. */
export const areaMiss = ({ shape }: KnownShape, { piece }: StandingPiece): number =>
  Math.abs(piece.area - shape.area) / shape.area;

/** The pose in which a shape agrees best with a piece, in outline, in area and in depth; null when none does by half. */
export function bestOnPiece(
  known: KnownShape,
  on: StandingPiece,
  { field, top }: { readonly field: Field; readonly top: number },
): Candidate | null {
  const poses = findPoses(known.shape, on.edges, { least: LEAST_SHARE, middle: on.middle });
  const area = AREA_COST * Math.min(1, areaMiss(known, on));
  let best: Candidate | null = null;
  for (const pose of poses) {
    const cost = pose.miss + area + depthMiss(known.depths, pose.motion, field, top);
    if (best === null || cost < best.cost - 1e-9) best = { pose, cost };
  }
  return best;
}
