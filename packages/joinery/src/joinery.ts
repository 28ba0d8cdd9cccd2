import type { Joint } from '@haunch/model';

/**
 * How an edge takes part in a joint: `wall` against a plate's face, `end` against another edge, `seat` against
 * what stops it in the direction of entry (edge on edge, or a housing's floor), `shoulder` against the face of
 * the plate that it stops on.
 */
export type ContactRole = 'wall' | 'end' | 'seat' | 'shoulder';

/** One edge lying against another part. */
export interface Contact {
  readonly part: string;
  /** The edge's tag, such as `EL.m1/e0`; `TOP.h1/floor` for the floor of a pocket. */
  readonly edge: string;
  /** The part that it lies against. */
  readonly with: string;
  /** The joint (mate) to which the contact belongs. */
  readonly joint: string;
  readonly role: ContactRole;
  /** The stretch of the edge that is covered, mm from its start along the counter-clockwise contour. */
  readonly stretch: readonly [number, number];
}

/** All joints of a piece with their fits, and every contact on which they rest. */
export interface Joinery {
  readonly joints: readonly Joint[];
  readonly contacts: readonly Contact[];
}
