import type { Point, Polygon } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import type { ProgramLines } from './program-lines.js';
import type { Level } from './sweep/level.js';
import { lowest, type Stretch } from './sweep/stretch.js';
import { indexStretches, type TrackIndex } from './sweep/track-index.js';

/** An item over one slab of the sheet, as cut: null where nothing is left at its place. Polygons in mm. */
export interface AsCutLevel extends Level {
  readonly outer: Polygon | null;
  readonly holes: readonly Polygon[];
}

/** An item as cut, with the part that it was to become (placed, board coordinates). */
export interface AsCutItem {
  readonly item: string;
  readonly piece: number;
  readonly part: Part;
  /** Lowest first. Below the tabs' tops the polygons hold the tabs up to the kerf's far side. */
  readonly levels: readonly AsCutLevel[];
}

/** A board after its program: what every item became and the motions that made it. Plain data. */
export interface AsCutBoard {
  readonly kind: 'as-cut board';
  readonly board: string;
  /** Program heights of the sheet's two faces. */
  readonly top: number;
  readonly bottom: number;
  readonly levels: readonly Level[];
  readonly items: readonly AsCutItem[];
  /** All motions that go below the sheet's top. */
  readonly stretches: readonly Stretch[];
  /** Where several programs made it one after the other: lines of stretches count through all of them. */
  readonly programs?: readonly ProgramLines[];
}

/** What a board's program removes at any height, indexed on demand. */
export interface Field {
  readonly levels: readonly Level[];
  /** At the height at which a slab is judged. */
  at(height: number): TrackIndex;
}

/** The field of some motions; those above the sheet are left out. */
export function makeField(
  stretches: readonly Stretch[],
  { top, levels }: { readonly top: number; readonly levels: readonly Level[] },
): Field {
  const index = indexStretches(stretches.filter((s) => lowest(s) < top));
  const known = new Map<number, TrackIndex>();
  return {
    levels,
    at(height) {
      let found = known.get(height);
      if (!found) {
        found = index(height);
        known.set(height, found);
      }
      return found;
    },
  };
}

const fields = new WeakMap<AsCutBoard, Field>();

/** Gives a board the field that its judge has made already. */
export function keepField(board: AsCutBoard, field: Field): void {
  fields.set(board, field);
}

/** The field of a board as cut, made once. */
export function fieldOf(board: AsCutBoard): Field {
  let field = fields.get(board);
  if (!field) {
    field = makeField(board.stretches, board);
    fields.set(board, field);
  }
  return field;
}

/**
 * The program lines that cut the edge at a place of a board, within 0.005 mm of it, on any pass; where none does,
 * the line whose swept edge is nearest. Board coordinates, mm. Empty when nothing was cut on the board.
 */
export function linesCutting(board: AsCutBoard, at: Point): number[] {
  return linesOf(fieldOf(board), at);
}

/** The same for a field. */
export function linesOf(field: Field, at: Point): number[] {
  const lines = new Set<number>();
  for (const level of field.levels) for (const t of field.at(level.at).edgesAt(at, 0.005)) lines.add(t.line);
  return [...lines].sort((a, b) => a - b);
}
