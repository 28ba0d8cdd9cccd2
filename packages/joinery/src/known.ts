import type { Locus, Mark } from '@haunch/model';

/** Turns a path inside the master into a place that a person finds. */
export type PlaceOf = (path: readonly PropertyKey[]) => Locus;

/** What a check of one part may ask of the whole master. */
export interface Known {
  /** All marks by id; those that name parts which do not exist, or whose normal is no unit vector, are null. */
  readonly marks: ReadonlyMap<string, Mark | null>;
  readonly thicknesses: Readonly<Record<string, number>>;
  readonly at: PlaceOf;
}
