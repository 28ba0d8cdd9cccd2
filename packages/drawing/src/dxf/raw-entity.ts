import type { Entity } from '../drawing.js';
import type { Tags } from './tags.js';

/** Why an entity of a known type is not taken over. */
export type LeftOut = 'no size' | 'not flat' | 'unknown';

/** What an entity reader answers: an entity in drawing units, unrounded, or why there is none. */
export type RawEntity = Entity | LeftOut;

/** The records that follow an entity: a reader takes those that belong to it (VERTEX … SEQEND). */
export interface FollowingRecords {
  /** The type of the next record; null at the end of the file. */
  peek(): string | null;
  take(): Tags;
}

/** Reads one type of entity. Pure but for reporting values that cannot be read. */
export type EntityReader = (tags: Tags, following: FollowingRecords) => RawEntity;
