import { moveRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingRun, NestingStrategy } from '@haunch/model';
import { type Bed, bedOf } from './bed.js';
import { constructive } from './bottom-left-fill.js';
import { isForbidden } from './no-fit.js';
import { ON_GRID, STEPS } from './outer-polygon.js';
import { arrangementOf } from './overlap/arrangement.js';
import { latticeOf } from './overlap/lattice.js';
import { pairTables, pointOf } from './overlap/pair-tables.js';
import { type Room, type Search, searchOf } from './overlap/search.js';
import { type Incumbent, shorten } from './overlap/shorten.js';
import { type Axis, lengthOf, usedLength, withLength } from './overlap/shrink.js';
import { type Wares, waresOf } from './overlap/variant.js';

/** Options of the overlap-minimising strategy. */
export interface OverlapOptions {
  /** Outlines are coarsened outward by at most this share of their area. */
  readonly addedArea: number;
  /** Ticks for the constructive start. */
  readonly start: number;
  /** Share of the budget for finding other arrangements; the rest makes the best one tighter. */
  readonly explore: number;
  /** Share of the length that the first attempts take away. */
  readonly firstShrink: number;
  /** The budget in ticks that the division counts on where the run does not tell how much is spent. */
  readonly expected: number;
  readonly [more: string]: unknown;
}

/** An improvement by less than this share is handed over only at the end. */
const WORTH = 0.0002;

const roomOf = (bed: Bed, number: number): Room => {
  const [x0, y0, x1, y1] = bed.usable;
  return { bed: number, x0, y0, x1, y1 };
};

/** The constructive strategy's best within some ticks. */
function startLayout(instance: NestingInstance, run: NestingRun, ticks: number): Layout | undefined {
  let left = ticks;
  let best: Layout | undefined;
  const tick = (): boolean => left-- > 0 && run.tick();
  for (const layout of constructive.nest(instance, constructive.defaults, { random: run.random, tick }))
    best = layout;
  return best;
}

/** Takes a layout into the search. */
function takeIn(instance: NestingInstance, s: Search, layout: Layout, bedIds: readonly string[]): void {
  const index = new Map(s.pieces.map((p, i) => [p.id, i]));
  const items = new Map(instance.items.map((i) => [i.id, i]));
  for (const p of layout.placements) {
    const i = index.get(p.item)!;
    const item = items.get(p.item)!;
    const bounds = ringBounds(moveRing(p.motion, item.outline));
    s.now.x[i] = Math.floor(bounds.minX * STEPS + ON_GRID) + 0;
    s.now.y[i] = Math.floor(bounds.minY * STEPS + ON_GRID) + 0;
    s.now.variant[i] = s.pieces[i]!.ofTurn[item.turns.indexOf(p.motion.turn)]!;
    s.now.room[i] = bedIds.indexOf(p.board);
  }
}

function layoutOf(
  s: Search,
  found: Incumbent,
  bedIds: readonly string[],
  unplaced: readonly string[],
): Layout {
  const { arrangement: a, stretch } = found;
  return {
    kind: 'layout',
    placements: s.pieces.map((p, i) => {
      const v = s.variants[a.variant[i]!]!;
      return {
        item: p.id,
        board: bedIds[stretch.rooms[a.room[i]!]!.bed]!,
        motion: {
          mirror: false,
          turn: v.turn,
          dx: (a.x[i]! - v.cornerX) / STEPS,
          dy: (a.y[i]! - v.cornerY) / STEPS,
        },
      };
    }),
    unplaced: [...unplaced],
  };
}

/** Whether no two pieces overlap, by the no-fit polygons alone. */
function isFree(s: Search, { arrangement: a, stretch }: Incumbent): boolean {
  const n = s.pieces.length;
  for (let i = 0; i < n; i++) {
    const { bed } = stretch.rooms[a.room[i]!]!;
    for (const t of s.tables.onBed(bed, a.variant[i]!))
      if (isForbidden(t.noFit, a.x[i]!, a.y[i]!)) return false;
    for (let j = i + 1; j < n; j++) {
      if (stretch.rooms[a.room[j]!]!.bed !== bed) continue;
      const p = s.tables.between(a.variant[j]!, a.variant[i]!);
      if (isForbidden(p.noFit, ...pointOf(p, a.x[i]! - a.x[j]!, a.y[i]! - a.y[j]!))) return false;
    }
  }
  return true;
}

function* nest(instance: NestingInstance, options: OverlapOptions, run: NestingRun): Generator<Layout> {
  let used = 0;
  const watched: NestingRun = {
    random: () => run.random(),
    tick: () => {
      used++;
      return run.tick();
    },
  };
  const spent = (): number => run.spent?.() ?? used / options.expected;
  const first = startLayout(instance, watched, options.start);
  if (!first) return;
  yield first;
  const placed = new Set(first.placements.map((p) => p.item));
  const inside: NestingInstance = { ...instance, items: instance.items.filter((i) => placed.has(i.id)) };
  if (inside.items.length === 0) return;
  const coarseness = { corners: 4, addedArea: options.addedArea };
  const bedIds = instance.boards.map((b) => b.id);
  const beds = instance.boards.map((b) => bedOf(b, instance.spacing, instance.edgeMargin, coarseness));
  const odd = beds.some((b) => b.outside.length > 0);
  const wares: Wares = waresOf(inside, coarseness, bedIds, odd);
  const tables = pairTables(wares, beds, () => {});
  const s = searchOf(wares, beds, tables, latticeOf(wares, beds), watched);
  takeIn(inside, s, first, bedIds);
  const rooms = beds.map(roomOf);
  s.rooms = rooms;
  const last = Math.max(...s.now.room);
  const axis: Axis = 'x';
  const stretch = { rooms, last, axis };
  const arrangement = arrangementOf(s.pieces.length);
  arrangement.x.set(s.now.x);
  arrangement.y.set(s.now.y);
  arrangement.variant.set(s.now.variant);
  arrangement.room.set(s.now.room);
  const start: Incumbent = { arrangement, stretch: withLength(stretch, usedLength(s, arrangement, stretch)) };
  let best = start;
  let given = start;
  for (const found of shorten(s, start, options, spent)) {
    if (!isFree(s, found)) throw new Error('overlap-minimising: a table and its no-fit polygon do not agree');
    best = found;
    if (lengthOf(best.stretch) > lengthOf(given.stretch) * (1 - WORTH)) continue;
    given = best;
    yield layoutOf(s, given, bedIds, first.unplaced);
  }
  if (best !== given) yield layoutOf(s, best, bedIds, first.unplaced);
}

/**
 * The overlap-minimising strategy: begins with the constructive one's layout, makes the room shorter, lets parts
 * overlap and drives the overlap to exactly zero, again and again. Anytime; each layout it yields is complete and
 * better than the one before; the same instance, options and run give the same layouts. One move of a part takes
 * one tick. Source: see `docs`; separation with pair weights after Egeblad, Nielsen & Odgaard (EJOR 183, 2007).
 */
export const overlapMinimising: NestingStrategy<OverlapOptions> = {
  name: 'overlap-minimising',
  contract: 1,
  supports: { severalBoards: true, keepOuts: true, irregularBoards: true },
  defaults: { addedArea: 0, start: 1, explore: 0.8, firstShrink: 0.02, expected: 20_000 },
  nest,
};
