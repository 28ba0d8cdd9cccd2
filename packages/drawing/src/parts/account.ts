import type { Point } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import type { Entity } from '../drawing.js';
import { entityStroke } from './entity-stroke.js';
import { type EntityRef, type RepairBook, repairBook, type Stroke } from './repair.js';

/** Why something drawn is not in any part. */
export type LeftOutReason =
  | 'hidden layer'
  | 'layer rule'
  | "layer's name"
  | 'filled area'
  | 'point'
  | 'lettering'
  | 'not followed'
  | 'no size'
  | 'engraving'
  | 'construction line'
  | 'recess in no part';

/** Things drawn that are in no part, for one reason, on one layer. */
export interface LeftOut {
  readonly why: LeftOutReason;
  readonly layer: string;
  readonly entities: readonly EntityRef[];
  readonly strokes: readonly Stroke[];
}

/** A loop that could not be understood: it is open, or crosses itself or another. mm */
export interface Unclear {
  /** The code of the diagnostic that says so. */
  readonly code: string;
  readonly at: Point;
  readonly entities: readonly EntityRef[];
  readonly strokes: readonly Stroke[];
}

/** What is said while parts are looked for. */
export interface Account {
  readonly file: string;
  readonly book: RepairBook;
  readonly diagnostics: Diagnostic[];
  readonly unclear: Unclear[];
  leaveOut(why: LeftOutReason, entities: readonly Entity[], strokes?: readonly Stroke[]): void;
  readonly leftOut: LeftOut[];
}

export const refOf = (e: Entity): EntityRef => ({ line: e.line, handle: e.handle });

/** Begins an account of a drawing. */
export function openAccount(file: string, keep: readonly string[]): Account {
  const leftOut: LeftOut[] = [];
  return {
    file,
    book: repairBook(keep),
    diagnostics: [],
    unclear: [],
    leftOut,
    leaveOut(why, entities, strokes) {
      const byLayer = new Map<string, Entity[]>();
      for (const e of entities) {
        const list = byLayer.get(e.layer);
        if (list === undefined) byLayer.set(e.layer, [e]);
        else list.push(e);
      }
      let drawn = strokes;
      for (const [layer, own] of byLayer) {
        const lines = drawn ?? own.flatMap((e) => entityStroke(e) ?? []);
        leftOut.push({ why, layer, entities: own.map(refOf), strokes: lines });
        if (drawn !== undefined) drawn = [];
      }
    },
  };
}
