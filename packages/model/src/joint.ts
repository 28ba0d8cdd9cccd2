/**
 * What is judged in a joint.
 * - `thickness`: a plate between two walls (or against one): total clearance = slot width − real thickness,
 *   or with one wall the gap between wall and face when the plate sits in its nominal place.
 * - `ends`: edges between edges (a tenon's width in a mortise's length); ends are not grip faces.
 * - `seat`: edge on edge in the direction of entry (lap floors), or an edge on a housing's floor.
 */
export type FitKind = 'thickness' | 'ends' | 'seat';

/**
 * How a plate passes walls that are cut square to another plate when the two are not square to each other: each wall
 * touches it along an arris alone, one at either face.
 */
export interface Lean {
  /** The angle between what passes and the slotted plate, radians: over 0 and less than π/2. */
  readonly angle: number;
  /** How high the walls are, mm: the slotted plate's thickness there, or the depth of the pocket. */
  readonly height: number;
}

/**
 * What passes between two walls this far apart, mm, measured square to its own faces: the width itself, and under a
 * lean width·sin θ − height·cos θ; so that a plate t needs a slot of t/sin θ + height/tan θ. Plane trigonometry of the
 * section square to both plates.
 */
export const passing = (width: number, lean: Lean | undefined): number =>
  lean === undefined ? width : width * Math.sin(lean.angle) - lean.height * Math.cos(lean.angle);

/** One place where two parts meet, with the clearance wanted there. All lengths mm. */
export interface Fit {
  /** `M-EL-S1:EL.m1:thickness`: joint, contour of the slotted part, kind, and a letter where there are several. */
  readonly id: string;
  readonly joint: string;
  readonly kind: FitKind;
  /** The part whose edges are the walls. */
  readonly slotPart: string;
  /** The contour (outline, through cut or pocket) of the slotted part that carries the walls. */
  readonly contour: string;
  /** Edge ids on the slotted part: two for a slot, one for an open side. */
  readonly walls: readonly string[];
  readonly enteringPart: string;
  /** Edge ids on the entering part that meet the walls, in the same order; empty for `thickness`. */
  readonly enteringEdges: readonly string[];
  /** The clearance wanted: total for two walls, the gap for one. May be negative (a drive fit). */
  readonly wanted: number;
  /** The clearance with which it still counts as wanted: [least, most]. */
  readonly window: readonly [number, number];
  /**
   * The entering plate's thickness at the spot that the walls grip, where the board's map tells it; the plate's
   * own thickness when left out.
   */
  readonly local?: number;
  /** There where the plates are not square to each other. Clearances are then between what passes and the arrises, square to its faces. */
  readonly lean?: Lean;
}

/** Two parts meeting, by their mate, with everything that is judged there. */
export interface Joint {
  readonly id: string;
  readonly type: string;
  readonly slotPart: string;
  readonly enteringPart: string;
  readonly fits: readonly Fit[];
}

/** A joint's verdict, in words. */
export type Verdict = 'as wanted' | 'tight' | 'slack' | 'blocked' | 'unknown';
