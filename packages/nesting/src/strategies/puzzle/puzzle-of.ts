import type { NestingInstance } from '@haunch/model';
import { isPlain } from '../bed.js';
import { doubleArea } from '../outer-polygon.js';
import { turnedPolygon } from '../overlap/quarter.js';
import type { Stage } from '../overlap/stage.js';
import type { Put, Puzzle, TileKind } from './assemble.js';
import { tileOf } from './tile.js';

/** A puzzle that an instance may be, and how to read its solution as an arrangement. */
export interface FoundPuzzle {
  readonly puzzle: Puzzle;
  /** Beds that the frames are in, in the order of the frames; a frame lies in the lower left corner. */
  readonly beds: readonly number[];
  /** Pieces of each kind, by their numbers among the stage's possible ones. */
  readonly pieces: readonly (readonly number[])[];
  /** The variant of each kind's tiles. */
  readonly variants: readonly (readonly number[])[];
}

/** More pieces than these are not put together as a puzzle. */
const MOST_PIECES = 200;

/**
 * The puzzle that an instance may be: exact outlines on boards that are rectangles, without spacing or margin, whose area
 * is that of some like boards, or of a piece of the one board that ends on the lattice of the outlines. Undefined where it
 * cannot be one.
 */
export function puzzleOf(instance: NestingInstance, stage: Stage): FoundPuzzle | undefined {
  const { wares, beds, lattice, possible } = stage;
  if (instance.spacing > 0 || instance.edgeMargin > 0 || lattice <= 1) return undefined;
  if (possible.length !== wares.pieces.length || possible.length > MOST_PIECES) return undefined;
  if (wares.shapes.some((s) => s.slack > 0 || s.holes.length > 0)) return undefined;
  const [first] = beds;
  if (!first || !beds.every(isPlain)) return undefined;
  const open = beds.flatMap((_, k) => (possible.every((p) => p.beds.includes(k)) ? [k] : []));
  if (open.length !== beds.length) return undefined;
  const [width, height] = [first.box[2] - first.box[0], first.box[3] - first.box[1]];
  if (beds.some((b) => b.box[2] - b.box[0] !== width || b.box[3] - b.box[1] !== height)) return undefined;
  const kinds = new Map<number, number[]>();
  possible.forEach((p, i) => {
    const list = kinds.get(p.kind) ?? [];
    kinds.set(p.kind, list);
    list.push(i);
  });
  const groups = [...kinds.values()];
  const tilesOf = groups.map((g) =>
    possible[g[0]!]!.variants.map((k) => {
      const v = wares.variants[k]!;
      return tileOf(turnedPolygon(wares.shapes[v.shape]!.outline, v.quarter, -v.offX, -v.offY));
    }),
  );
  const tiles = groups.map((g, k): TileKind => {
    const [tile] = tilesOf[k]!;
    return { count: g.length, tiles: tilesOf[k]!, area: doubleArea(tile!.outline) / 2 };
  });
  // Rectangles have so many corners alike that trying orders of them is quicker.
  if (
    beds.length === 1 &&
    tilesOf.every(([t]) => t!.outline.length === 8 && doubleArea(t!.outline) === 2 * t!.width * t!.height)
  )
    return undefined;
  const area = tiles.reduce((sum, t) => sum + t.count * t.area, 0);
  const found = (frames: number, length: number): FoundPuzzle => ({
    puzzle: { kinds: tiles, frames, width: length, height },
    beds: open.slice(0, frames),
    pieces: groups,
    variants: groups.map((g) => possible[g[0]!]!.variants),
  });
  const frames = area / (width * height);
  if (Number.isInteger(frames) && frames <= beds.length) return found(frames, width);
  const length = area / height;
  return beds.length === 1 && length < width && length % lattice === 0 ? found(1, length) : undefined;
}

/** Writes a solution into an arrangement of the stage's possible pieces. */
export function writePuts(
  found: FoundPuzzle,
  puts: readonly Put[],
  stage: Stage,
  to: { x: Float64Array; y: Float64Array; variant: Int32Array; room: Int32Array },
): void {
  const next = found.pieces.map(() => 0);
  for (const p of puts) {
    const i = found.pieces[p.kind]![next[p.kind]!++]!;
    const bed = found.beds[p.frame]!;
    const [x0, y0] = stage.beds[bed]!.box;
    to.x[i] = x0 + p.x;
    to.y[i] = y0 + p.y;
    to.variant[i] = found.variants[p.kind]![p.turn]!;
    to.room[i] = bed;
  }
}
