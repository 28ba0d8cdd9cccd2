import type { Point } from '@haunch/geometry';

/** A place of the cutter's tip in program coordinates, mm. */
export interface Place extends Point {
  readonly z: number;
}

/** Cutter location data (after ISO 3592 / ISO 4343): what the cutter does, in order. mm, mm/min, s, rev/min. */
export type Move =
  | { readonly kind: 'rapid'; readonly to: Place; readonly from: string }
  | { readonly kind: 'linear'; readonly to: Place; readonly feed: number; readonly from: string }
  /** Horizontal arc, or a helix where z changes; `to` at the start's x, y means one full turn. */
  | {
      readonly kind: 'circular';
      readonly to: Place;
      readonly centre: Point;
      readonly turn: 'cw' | 'ccw';
      readonly feed: number;
      readonly from: string;
    }
  | { readonly kind: 'dwell'; readonly seconds: number; readonly from: string }
  | { readonly kind: 'spindle'; readonly rpm: number; readonly from: string }
  | { readonly kind: 'cutter'; readonly number: number; readonly id: string; readonly from: string }
  | { readonly kind: 'note'; readonly text: string; readonly from: string }
  /** The program waits until the operator starts it again. */
  | { readonly kind: 'pause'; readonly text: string; readonly from: string }
  /** Words of the program count from here on in the work offset `code` (54 … 59), whose Z zero lies at the height `z`. */
  | { readonly kind: 'offset'; readonly code: number; readonly z: number; readonly from: string };

/** All that the machine does for one board. `from` of each move is the id of its workingstep. */
export interface Toolpath {
  readonly kind: 'toolpath';
  readonly board: string;
  readonly moves: readonly Move[];
}
