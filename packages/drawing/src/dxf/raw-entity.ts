import type { Entity, EntityPlace } from '../drawing.js';
import type { PlaneMap } from '../entity-map.js';
import type { Tags } from './tags.js';

/** Why an entity of a known type is not taken over. */
export type LeftOut = 'no size' | 'not flat' | 'unknown' | 'hidden' | 'annotation';

/** A reference to a block (INSERT): one map for each place of its array. Drawing units. */
export interface BlockReference {
  readonly kind: 'insert';
  readonly block: string;
  readonly place: EntityPlace;
  /** How many places the array has. */
  readonly count: number;
  /** From the block's own coordinates (its base point at 0) to those in which the reference stands. */
  readonly mapOf: (place: number) => PlaneMap;
  /** Attributes as lettering, in the coordinates in which the reference stands. */
  readonly attributes: readonly Entity[];
}

/** What stands in a drawing or block: an entity or a reference to a block. */
export type Item = Entity | BlockReference;

/** What an entity reader answers: items in drawing units, unrounded, or why there are none. */
export type RawEntity = Item | readonly Item[] | LeftOut;

/** The records that follow an entity: a reader takes those that belong to it (VERTEX … SEQEND). */
export interface FollowingRecords {
  /** The type of the next record; null at the end of the file. */
  peek(): string | null;
  take(): Tags;
}

/** Reads one type of entity. Pure but for reporting values that cannot be read. */
export type EntityReader = (tags: Tags, following: FollowingRecords) => RawEntity;
