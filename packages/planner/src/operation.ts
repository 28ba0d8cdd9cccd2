import type { Point } from '@haunch/geometry';
import type { Cutter, Tab, WorkingstepKind } from '@haunch/model';
import type { CutMove } from './cut-move.js';

/** One thing to be machined, planned but not yet in its place in the order. Sheet coordinates, mm. */
export interface Operation {
  readonly kind: WorkingstepKind;
  readonly item: string;
  readonly feature: string;
  readonly cutter: Cutter;
  /** What it encloses, mm²: small before large. */
  readonly area: number;
  readonly depths: readonly number[];
  readonly tabs: readonly Tab[];
  readonly slug: 'none' | 'cut to chips' | 'held' | null;
  /** From the height of rapids back to it. */
  readonly moves: readonly CutMove[];
  /** Items that lie inside this cut and must be finished before it. */
  readonly encloses: readonly string[];
}

export const startOf = (o: Operation): Point => o.moves[0]!.to;
export const endOf = (o: Operation): Point => o.moves.at(-1)!.to;
