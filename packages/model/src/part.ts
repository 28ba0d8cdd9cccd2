import type { Point, Ring } from '@haunch/geometry';
import type { Face } from './master.js';

/** The form of a corner relief: on the corner's bisector, along one wall, or the least that clears the arris. */
export type ReliefForm = 'diagonal' | 'along the wall' | 'least';

/**
 * A corner relief: where the cutter overcuts an inside corner so that a square arris can seat.
 * The relieved void is the contour plus the disc (`centre`, `radius`).
 */
export interface Relief {
  readonly form: ReliefForm;
  /** The sharp corner, in the frame of the contour. mm */
  readonly corner: Point;
  /** Where the cutter's centre goes. mm */
  readonly centre: Point;
  readonly radius: number;
  /** The edges that meet in the corner: before and after it along the contour. */
  readonly edges: readonly [string, string];
}

/**
 * A closed curve of a part, always counter-clockwise whether it bounds material or air. Each segment's tag
 * is its edge's id (`EL.m1/e0`), or `…/r0` for the arcs of reliefs.
 */
export interface Contour {
  readonly id: string;
  /** The curve to be produced, reliefs included. */
  readonly ring: Ring;
  /** The same without reliefs. Equal to `ring` where there are none. */
  readonly bare: Ring;
  readonly reliefs: readonly Relief[];
}

/** A recess of constant depth below a face (a housing where a plate enters it). Depth in mm. */
export interface Pocket extends Contour {
  readonly face: Face;
  readonly depth: number;
}

/** A round hole; depth in mm below its face, or through. */
export interface Hole {
  readonly id: string;
  readonly centre: Point;
  readonly diameter: number;
  readonly face: Face;
  readonly depth: number | 'through';
}

/** A flat plate and what is cut in it, in its own drawing plane as seen from its n+ face. mm. */
export interface Part {
  readonly kind: 'part';
  readonly id: string;
  readonly name: string;
  /** Real or design thickness, mm; null where nothing says it. */
  readonly thickness: number | null;
  /** The direction of the face grain in the part's plane; null where it may lie anyhow. */
  readonly grain: 'u' | 'v' | null;
  /** The face that lies up on the machine. */
  readonly cutFace: Face;
  readonly showFace: Face | null;
  /** The name of the stock it is meant for; null for any. */
  readonly stock: string | null;
  readonly outline: Contour;
  readonly through: readonly Contour[];
  readonly pockets: readonly Pocket[];
  readonly holes: readonly Hole[];
  /** What it was made from: drawing entities, lines or a master's part. */
  readonly from: readonly string[];
}
