import { moveRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingItem, NestingRun } from '@haunch/model';
import { type Bed, bedOf } from '../bed.js';
import { isForbidden } from '../no-fit.js';
import { ON_GRID, STEPS } from '../outer-polygon.js';
import type { Coarseness } from '../simplify-outward.js';
import { type Arrangement, copyOf } from './arrangement.js';
import { latticeOf } from './lattice.js';
import { type PairTables, pairTables, pointOf, ROW } from './pair-tables.js';
import { type Room, type Search, searchOf } from './search.js';
import { type Piece, type Wares, waresOf } from './variant.js';

/** An instance made ready for the search, and the way between layouts and arrangements. */
export interface Stage {
  readonly wares: Wares;
  readonly beds: readonly Bed[];
  readonly tables: PairTables;
  /** All of each bed that pieces may lie on. */
  readonly rooms: readonly Room[];
  readonly lattice: number;
  /** The pieces that some bed is large enough for. */
  readonly possible: readonly Piece[];
  readonly items: ReadonlyMap<string, NestingItem>;
}

/** An arrangement with the search that it belongs to. */
export interface Laid {
  readonly search: Search;
  readonly arrangement: Arrangement;
}

/** Making a table takes about as long as so many moves. */
const TABLE_TICKS = 8;

/** Makes an instance ready. Tables that the search asks for later cost the run its ticks. */
export function stageOf(instance: NestingInstance, coarseness: Coarseness, run: NestingRun): Stage {
  const beds = instance.boards.map((b) => bedOf(b, instance.spacing, instance.edgeMargin, coarseness));
  const wares = waresOf(instance, coarseness, beds);
  const rooms = beds.map(({ usable: [x0, y0, x1, y1] }, bed): Room => ({ bed, x0, y0, x1, y1 }));
  const fits = (p: Piece): boolean =>
    p.beds.some((b) =>
      p.variants.some((k) => {
        const v = wares.variants[k]!;
        return v.width <= rooms[b]!.x1 - rooms[b]!.x0 && v.height <= rooms[b]!.y1 - rooms[b]!.y0;
      }),
    );
  return {
    wares,
    beds,
    tables: pairTables(wares, beds, () => {
      for (let k = 0; k < TABLE_TICKS; k++) run.tick();
    }),
    rooms,
    lattice: latticeOf(wares, beds),
    possible: wares.pieces.filter(fits),
    items: new Map(instance.items.map((i) => [i.id, i])),
  };
}

/** A search over some of the pieces. */
export function searchFor(stage: Stage, pieces: readonly Piece[], run: NestingRun): Search {
  const s = searchOf(stage.wares, pieces, stage.beds, stage.tables, stage.lattice, run);
  s.rooms = stage.rooms;
  return s;
}

/** A layout as an arrangement of the pieces that it places. */
export function laidOf(stage: Stage, layout: Layout, run: NestingRun): Laid {
  const byItem = new Map(layout.placements.map((p) => [p.item, p]));
  const search = searchFor(
    stage,
    stage.wares.pieces.filter((p) => byItem.has(p.id)),
    run,
  );
  const { now } = search;
  search.pieces.forEach((piece, i) => {
    const { motion, board } = byItem.get(piece.id)!;
    const item = stage.items.get(piece.id)!;
    const bounds = ringBounds(moveRing(motion, item.outline));
    now.x[i] = Math.floor(bounds.minX * STEPS + ON_GRID) + 0;
    now.y[i] = Math.floor(bounds.minY * STEPS + ON_GRID) + 0;
    now.variant[i] = piece.ofTurn[item.turns.indexOf(motion.turn)]!;
    now.room[i] = stage.beds.findIndex((b) => b.id === board);
  });
  return { search, arrangement: copyOf(now) };
}

/** An arrangement as a layout; what it does not place is unplaced. */
export function layoutOf(stage: Stage, { search, arrangement: a }: Laid): Layout {
  const placed = new Set(search.pieces.map((p) => p.id));
  return {
    kind: 'layout',
    placements: search.pieces.map((p, i) => {
      const v = search.variants[a.variant[i]!]!;
      const dx = (a.x[i]! - v.cornerX) / STEPS;
      const dy = (a.y[i]! - v.cornerY) / STEPS;
      return {
        item: p.id,
        board: stage.beds[a.room[i]!]!.id,
        motion: { mirror: false, turn: v.turn, dx, dy },
      };
    }),
    unplaced: [...stage.items.keys()].filter((id) => !placed.has(id)),
  };
}

/** Whether the boxes of two pieces, grown by the spacing, share more than a line. */
function boxesMeet(s: Search, a: Arrangement, i: number, j: number): boolean {
  const fixed = a.variant[j]!;
  const { known, numbers } = s.tables.rowOf(a.variant[i]!);
  if (!known[fixed]) s.tables.learn(fixed, a.variant[i]!);
  const at = ROW * fixed;
  const [dx, dy] = [a.x[i]! - a.x[j]!, a.y[i]! - a.y[j]!];
  return dx > numbers[at]! && dy > numbers[at + 1]! && dx < numbers[at + 2]! && dy < numbers[at + 3]!;
}

/** Whether no two pieces overlap and none lies on what its bed forbids, by the no-fit polygons alone. */
export function isFree({ search: s, arrangement: a }: Laid): boolean {
  const n = s.pieces.length;
  for (let i = 0; i < n; i++) {
    const bed = a.room[i]!;
    for (const t of s.tables.onBed(bed, a.variant[i]!))
      if (isForbidden(t.noFit, a.x[i]!, a.y[i]!)) return false;
    for (let j = i + 1; j < n; j++) {
      if (a.room[j] !== bed || !boxesMeet(s, a, i, j)) continue;
      const [dx, dy] = [a.x[i]! - a.x[j]!, a.y[i]! - a.y[j]!];
      if (!s.tables.hullsMeet(a.variant[j]!, a.variant[i]!, dx, dy)) continue;
      const p = s.tables.between(a.variant[j]!, a.variant[i]!);
      if (isForbidden(p.noFit, ...pointOf(p, dx, dy))) return false;
    }
  }
  return true;
}
