import { type Point, pointInRing, ringBounds } from '@haunch/geometry';
import type { Board, Trim } from '@haunch/model';
import type { Field } from './as-cut-board.js';
import type { Level } from './sweep/level.js';

/** What of a board's trimming cut is not there, at the place where the worst of it begins. mm */
export type TrimFault = {
  readonly trim: Trim;
  /** Counted from 0 in the board's list. */
  readonly index: number;
  readonly at: Point;
  readonly level: Level;
} & (
  | { readonly kind: 'standing'; readonly length: number; readonly whole: boolean }
  | { readonly kind: 'beside'; readonly off: number }
);

/** How far from its finished edge, on the waste's side, a trimming cut is asked for, mm. */
const OUT = 0.6;
/** From place to place along it, mm. */
const STEP = 2;
/** From the sheet's own edge to the first place, mm. */
const INSIDE = 1;

/** Places along a trimming cut, `out` mm from its finished edge on the waste's side; those that lie on the board. */
function placesAlong({ along, at, waste }: Trim, { outline }: Board, out: number): Point[] {
  const box = ringBounds(outline);
  const [low, high] = along === 'x' ? [box.minX, box.maxX] : [box.minY, box.maxY];
  const v = waste === 'above' ? at + out : at - out;
  const n = Math.max(2, Math.ceil((high - low - 2 * INSIDE) / STEP));
  return Array.from({ length: n + 1 }, (_, k): Point => {
    const u = low + INSIDE + ((high - low - 2 * INSIDE) * k) / n;
    return along === 'x' ? { x: u, y: v } : { x: v, y: u };
  }).filter((p) => pointInRing(outline, p) === 'inside');
}

/** The longest run of places of which this is said: its first place and its length. */
function longestRun(
  places: readonly Point[],
  said: (p: Point) => boolean,
): { at: Point; length: number } | null {
  let best: { at: Point; length: number } | null = null;
  let from: Point | null = null;
  for (const p of places) {
    if (!said(p)) {
      from = null;
      continue;
    }
    from ??= p;
    const length = Math.abs(p.x - from.x) + Math.abs(p.y - from.y) + STEP;
    if (best === null || length > best.length) best = { at: from, length };
  }
  return best;
}

/**
 * What is missing of a board's trimming cuts: material that stands in one above its tabs, or below their height over more than `longest`;
 * and a finished edge that lies more than `tolerance` beside where it is wanted over more than `longest`, asked in the uppermost slab. One fault for each cut. mm
 */
export function trimFaults(
  board: Board,
  field: Field,
  {
    tabTop,
    longest,
    tolerance,
  }: { readonly tabTop: number; readonly longest: number; readonly tolerance: number },
): TrimFault[] {
  return (board.trims ?? []).flatMap((trim, index): TrimFault[] => {
    const places = placesAlong(trim, board, OUT);
    if (places.length === 0) return [];
    // From the top, so that the uppermost slab that is not cut speaks.
    const levels = [...field.levels].reverse();
    for (const level of levels) {
      const removed = field.at(level.at);
      const run = longestRun(places, (p) => removed.removed(p) > 0);
      if (run === null || (level.high <= tabTop && run.length <= longest)) continue;
      const all = places.every((p) => removed.removed(p) > 0);
      return [{ kind: 'standing', trim, index, level, ...run, whole: all }];
    }
    const level = levels[0]!;
    const removed = field.at(level.at);
    // Where another trimming cut crosses, the edge is gone over that one's width.
    const off = (p: Point): number => Math.abs(removed.removed(p));
    const run = longestRun(placesAlong(trim, board, 0), (p) => off(p) > tolerance);
    if (run === null || run.length <= longest) return [];
    return [{ kind: 'beside', trim, index, level, at: run.at, off: off(run.at) }];
  });
}
