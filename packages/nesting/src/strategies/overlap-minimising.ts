import type { Layout, NestingInstance, NestingRun, NestingStrategy } from '@haunch/model';
import { constructive } from './bottom-left-fill.js';
import { numberOutlines } from './number-outlines.js';
import { ON_GRID } from './outer-polygon.js';
import { copyOf } from './overlap/arrangement.js';
import { bedsUsed, extentAlong, extentOf } from './overlap/extent.js';
import { fewerBeds } from './overlap/fewer-beds.js';
import { insertInto } from './overlap/insert.js';
import { unitOf } from './overlap/lattice.js';
import { MANY_TABLES } from './overlap/pair-tables.js';
import { closed } from './overlap/search.js';
import { type Meeting, shorten } from './overlap/shorten.js';
import { type Axis, usedLength, withLength } from './overlap/shrink.js';
import { isFree, type Laid, laidOf, layoutOf, type Stage, searchFor, stageOf } from './overlap/stage.js';
import { repeated } from './pattern/repeat.js';
import { assemble } from './puzzle/assemble.js';
import { puzzleOf, writePuts } from './puzzle/puzzle-of.js';
import { orderSlabs } from './rectangles/order-slabs.js';
import { slabsOf, writeSlabs } from './rectangles/slabs-of.js';

/** Options of the overlap-minimising strategy. */
export interface OverlapOptions {
  /** Outlines are coarsened outward by at most this share of their area … */
  readonly addedArea: number;
  /** … and, where there is no spacing and tables are not too many, never to fewer than so many corners. */
  readonly corners: number;
  /** Share of the budget for the constructive start; its first layout is always completed. */
  readonly start: number;
  /** The same where there is no spacing: outlines then fit into each other, and the start matters little. */
  readonly startWhenTight: number;
  /** Share of the budget after which no more is tried to place what is unplaced, or to do with fewer boards. */
  readonly boards: number;
  /** Share of what then is left for finding other arrangements; the rest makes the best one tighter. */
  readonly explore: number;
  /** Share of the length that the first attempts take away. */
  readonly firstShrink: number;
  /** The budget in ticks that the division counts on where the run does not tell how much is spent. */
  readonly expected: number;
  /** Begins with this layout, which must be valid, rather than with one of its own. */
  readonly from?: Layout;
  readonly [more: string]: unknown;
}

/** An improvement by less than this share is handed over only at the end. */
const WORTH = 0.0002;
/** Whoever judges layouts has no more than this share of the time between two of them. */
const JUDGING = 0.3;
/** Another axis is tried as well where it is worse by no more than this share at the start. */
const OTHER_AXIS = 1.15;
/** Which share of the time goes to the better axis then. */
const FIRST_AXIS = 0.6;

/** Beyond this the square tables of overlaps take more memory than they are worth: the start is all there is then. */
const MOST_ITEMS = 3000;

/** Where there are more tables to make than a search has time for, outlines are coarsened to so many corners. */
const FEW_CORNERS = 12;

/** At least so many corners outlines keep: with spacing every corner becomes a round, and fits are never exact. */
function leastCorners({ items, spacing }: NestingInstance, options: OverlapOptions): number {
  if (spacing > 0) return 4;
  const numberOf = numberOutlines();
  const kinds = new Set(items.map(numberOf)).size;
  const turns = Math.max(0, ...items.map((i) => i.turns.length));
  const many = (turns * kinds * (kinds + 1)) / 2 > MANY_TABLES;
  return many ? Math.min(FEW_CORNERS, options.corners) : options.corners;
}

/** The constructive strategy's layouts while `goesOn`. */
function startLayouts(instance: NestingInstance, run: NestingRun, goesOn: () => boolean): Iterable<Layout> {
  const tick = (): boolean => goesOn() && run.tick();
  return constructive.nest(instance, constructive.defaults, { random: run.random, tick });
}

/** Share of the budget for putting together what may be a puzzle … */
const PUZZLE = 0.15;
/** … and no more trials than so many: what is a puzzle comes together soon, and what is none may have an area like one. */
const PUZZLE_TRIALS = 6000;

/** The arrangement without waste, where the instance is a puzzle that comes together; all of it is placed then. */
function solved(
  instance: NestingInstance,
  stage: Stage,
  run: NestingRun,
  spent: () => number,
): Laid | undefined {
  const found = puzzleOf(instance, stage);
  if (!found) return undefined;
  const until = spent() + PUZZLE;
  let left = PUZZLE_TRIALS;
  const puts = assemble(found.puzzle, {
    random: () => run.random(),
    tick: () => left-- > 0 && spent() < until && run.tick(),
  });
  if (!puts) return undefined;
  const search = searchFor(stage, stage.possible, run);
  writePuts(found, puts, stage, search.now);
  return { search, arrangement: copyOf(search.now) };
}

/** Share of the budget for orders of rectangles, where there are none but such. */
const RECTANGLES = 0.7;

/** Ever shorter arrangements of rectangles on one board, along the better axis; none where there are other shapes. */
function* inStrips(
  instance: NestingInstance,
  stage: Stage,
  axis: Axis,
  run: NestingRun,
  spent: () => number,
): Generator<{ readonly laid: Laid; readonly shortest: boolean }> {
  const found = slabsOf(instance, stage, axis);
  if (!found) return;
  const until = spent() + RECTANGLES * (1 - spent());
  const area = found.slabs.reduce((sum, s) => sum + s.long * s.wide, 0);
  const tallest = Math.max(...found.slabs.map((s) => (s.turns ? Math.min(s.long, s.wide) : s.long)));
  const wanted = Math.max(tallest, area / found.width);
  // No length is less, and where all sizes are whole units no length is in between.
  const unit = unitOf(found.slabs.flatMap((s) => [s.long, s.wide]));
  const aim = Math.ceil(wanted / unit - ON_GRID) * unit;
  const counted = { random: () => run.random(), tick: () => spent() < until && run.tick() };
  for (const lying of orderSlabs(found.slabs, found.width, aim, counted)) {
    if (lying.length > found.length) continue;
    const search = searchFor(stage, stage.possible, run);
    writeSlabs(found, lying, stage, search.now);
    yield { laid: { search, arrangement: copyOf(search.now) }, shortest: lying.length <= aim };
  }
}

/** Many copies of one piece in repeated cells, where there is nothing else; all of them are placed then. */
function inCells(stage: Stage, run: NestingRun): Laid[] {
  return repeated(stage, ['x', 'y'], () => run.tick()).flatMap(({ copies }) => {
    const search = searchFor(stage, stage.possible, run);
    copies.forEach(({ variant, x, y }, i) => {
      search.now.x[i] = x;
      search.now.y[i] = y;
      search.now.variant[i] = variant;
      search.now.room[i] = 0;
    });
    const laid = { search, arrangement: copyOf(search.now) };
    // Cells far apart were not held against each other.
    return isFree(laid) ? [laid] : [];
  });
}

/** Tries to place what is unplaced: all of it, then one piece after the other, the largest first. */
function* placeMore(stage: Stage, first: Laid, run: NestingRun, goesOn: () => boolean): Generator<Laid> {
  let laid = first;
  const attempt = (ids: ReadonlySet<string>): Laid | undefined => {
    const at = new Map(laid.search.pieces.map((p, i) => [p.id, i]));
    const pieces = stage.possible.filter((p) => at.has(p.id) || ids.has(p.id));
    const search = searchFor(stage, pieces, run);
    const known = pieces.map((p) => at.get(p.id) ?? -1);
    const arrangement = insertInto(search, laid.arrangement, known, stage.rooms, goesOn);
    return arrangement && { search, arrangement };
  };
  const missing = (): string[] => {
    const placed = new Set(laid.search.pieces.map((p) => p.id));
    return stage.possible
      .filter((p) => !placed.has(p.id))
      .sort((a, b) => b.area - a.area || (a.id < b.id ? -1 : 1))
      .map((p) => p.id);
  };
  const all = missing();
  for (const ids of all.length > 1 ? [all, ...all.map((id) => [id])] : [all]) {
    if (ids.length === 0 || !goesOn()) return;
    const found = attempt(new Set(ids));
    if (!found) continue;
    laid = found;
    yield laid;
    if (missing().length === 0) return;
  }
}

/** The bed and the axis along which cutting off the rest leaves most. */
function bestCut({
  search,
  arrangement,
}: Laid): { readonly last: number; readonly axis: Axis; readonly extent: number }[] {
  const axes = ['x', 'y'] as const;
  return bedsUsed(arrangement)
    .flatMap((last) =>
      axes.map((axis) => ({ last, axis, extent: extentAlong(search, arrangement, last, axis) })),
    )
    .sort((a, b) => a.extent - b.extent || a.last - b.last || (a.axis < b.axis ? -1 : 1));
}

/** How a run's explorers share arrangements of the pieces of `search`. */
function meetingOf(stage: Stage, search: Laid['search'], run: NestingRun): Meeting {
  return {
    due: () => run.meets?.() === true,
    fellow: () => {
      const layout = run.fellow?.();
      if (!layout) return undefined;
      const theirs = laidOf(stage, layout, run);
      const same = theirs.search.pieces.map((p) => p.id).join() === search.pieces.map((p) => p.id).join();
      return same ? theirs.arrangement : undefined;
    },
  };
}

/** Shortens along the best axis, and along another where that may be as good. */
function* shortenAlong(
  stage: Stage,
  laid: Laid,
  options: OverlapOptions,
  run: NestingRun,
  spent: () => number,
): Generator<Laid & { readonly meets?: true }> {
  const { search, arrangement } = laid;
  const meeting = meetingOf(stage, search, run);
  const open = new Set(bedsUsed(arrangement));
  const rooms = stage.rooms.map((r, k) => (open.has(k) ? r : closed(k)));
  const cuts = bestCut(laid);
  const first = cuts[0]!;
  const other = cuts.find((c) => c.axis !== first.axis && c.extent <= first.extent * OTHER_AXIS);
  const from = spent();
  const parts = other
    ? ([
        [first, FIRST_AXIS],
        [other, 1],
      ] as const)
    : ([[first, 1]] as const);
  let begun = 0;
  for (const [{ last, axis }, end] of parts) {
    const [lo, hi] = [begun, end];
    begun = end;
    const share = (): number => ((spent() - from) / Math.max(1e-9, 1 - from) - lo) / (hi - lo);
    search.tick = end === 1 ? () => run.tick() : () => share() < 1 && run.tick();
    const stretch = { rooms, last, axis };
    const start = {
      arrangement,
      stretch: withLength(stretch, usedLength(search, arrangement, stretch)),
    };
    for (const found of shorten(search, start, options, share, meeting))
      yield { search, arrangement: found.arrangement, ...(found.meets ? { meets: true } : {}) };
  }
}

function* nest(instance: NestingInstance, options: OverlapOptions, run: NestingRun): Generator<Layout> {
  let used = 0;
  const watched: NestingRun = {
    random: () => run.random(),
    tick: () => {
      used++;
      return run.tick();
    },
    ...(run.meets ? { meets: () => run.meets!(), fellow: () => run.fellow?.() } : {}),
  };
  const spent = (): number => run.spent?.() ?? used / options.expected;
  const many = instance.items.length > MOST_ITEMS;
  const startShare = many ? 1 : instance.spacing > 0 ? options.start : options.startWhenTight;
  let first: Layout = { kind: 'layout', placements: [], unplaced: instance.items.map((i) => i.id) };
  if (options.from) {
    first = options.from;
    yield first;
  } else
    for (const layout of startLayouts(instance, watched, () => spent() < startShare)) {
      first = layout;
      yield first;
    }
  if (many) return;
  const coarseness = { corners: leastCorners(instance, options), addedArea: options.addedArea };
  const stage = stageOf(instance, coarseness, watched);
  let best = laidOf(stage, first, watched);
  const checked = (laid: Laid): Laid => {
    if (!isFree(laid)) throw new Error('overlap-minimising: a table and its no-fit polygon do not agree');
    return laid;
  };
  const puzzle = solved(instance, stage, watched, spent);
  if (puzzle) {
    yield layoutOf(stage, checked(puzzle));
    return;
  }
  const early = (): boolean => spent() < options.boards;
  for (const laid of placeMore(stage, best, watched, early)) {
    best = checked(laid);
    yield layoutOf(stage, best);
  }
  if (best.search.pieces.length === 0) return;
  for (const arrangement of fewerBeds(best.search, best.arrangement, stage.rooms, early)) {
    best = checked({ search: best.search, arrangement });
    yield layoutOf(stage, best);
  }
  let least = extentOf(best.search, best.arrangement);
  for (const { laid, shortest } of inStrips(instance, stage, bestCut(best)[0]!.axis, watched, spent)) {
    const extent = extentOf(laid.search, laid.arrangement);
    if (laid.search.pieces.length < best.search.pieces.length || extent >= least) continue;
    least = extent;
    best = checked(laid);
    yield layoutOf(stage, best);
    if (shortest) return;
  }
  for (const laid of inCells(stage, watched)) {
    const extent = extentOf(laid.search, laid.arrangement);
    if (laid.search.pieces.length < best.search.pieces.length || extent >= least) continue;
    least = extent;
    best = laid;
    yield layoutOf(stage, best);
  }
  let given = least;
  let pending: Laid | undefined;
  let handedAt = spent();
  let judging = 0;
  for (const laid of shortenAlong(stage, best, options, watched, spent)) {
    if (laid.meets) {
      yield layoutOf(stage, best);
      given = least;
      pending = undefined;
      continue;
    }
    const extent = extentOf(laid.search, laid.arrangement);
    if (extent >= least) continue;
    least = extent;
    best = checked(laid);
    pending = best;
    if (least > given * (1 - WORTH) || (spent() - handedAt) * JUDGING < judging) continue;
    given = least;
    const asked = spent();
    yield layoutOf(stage, pending);
    handedAt = spent();
    judging = handedAt - asked;
    pending = undefined;
  }
  if (pending) yield layoutOf(stage, pending);
}

/**
 * The overlap-minimising strategy: begins with the constructive one's layout, lets parts overlap and drives the
 * overlap to exactly zero: to place what was left out, to do with fewer or smaller boards, and then in an ever shorter
 * last board. Anytime; each layout it yields is complete and better than the one before; the same instance, options
 * and run give the same layouts. One move of a part takes one tick. An item that no board has room for is left
 * unplaced. More than 3000 items are laid as the start has them.
 * Source: separation by weighted pairs after J. Egeblad, B. K. Nielsen & A. Odgaard (EJOR 183, 2007) and T. Imamichi,
 * M. Yagiura & H. Nagamochi (Discrete Optimization 6, 2009); the order of the search after J. Gardeyn, G. Vanden
 * Berghe & T. Wauters (arXiv:2509.13329, 2025).
 */
export const overlapMinimising: NestingStrategy<OverlapOptions> = {
  name: 'overlap-minimising',
  contract: 1,
  supports: { severalBoards: true, keepOuts: true, irregularBoards: true, defects: true },
  defaults: {
    addedArea: 0.003,
    corners: 40,
    start: 0.5,
    startWhenTight: 0.02,
    boards: 0.75,
    explore: 0.8,
    firstShrink: 0.02,
    expected: 20_000,
  },
  nest,
};
