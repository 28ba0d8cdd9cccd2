import type { Layout, NestingInstance, NestingItem } from '@haunch/model';
import {
  compareScores,
  overlapMinimising,
  runNesting,
  type Score,
  scoreLayout,
  seededRandom,
} from '@haunch/nesting';

/** A better layout of a job, while it is being improved. */
export interface LayoutStep {
  readonly layout: Layout;
  readonly score: Score;
  /** Moves made so far, of how many. */
  readonly moves: number;
  readonly of: number;
}

/** How a layout is improved: counted, so that it can be made again. */
export interface StockImprovement {
  readonly seed: number;
  /** Moves of overlapping parts; making a table of a pair of parts counts as some. */
  readonly moves: number;
  /** Ends after so many of them, where somebody was content with what was there by then. */
  readonly stopAfter?: number | undefined;
  /** Told of each better layout. */
  readonly found?: ((step: LayoutStep) => void) | undefined;
  /** Asked at each move; true takes what is there. */
  readonly enough?: (() => boolean) | undefined;
}

/** What came of it. */
export interface Improved {
  readonly layout: Layout;
  /** Moves made: with them as `stopAfter` the same layout is made again. */
  readonly moves: number;
}

/** Items that share boards, and those boards: what lies on others cannot change anything for them. */
function groupsOf(instance: NestingInstance): NestingInstance[] {
  const left = [...instance.items];
  const groups: NestingInstance[] = [];
  while (left.length > 0) {
    const boards = new Set(left[0]!.boards);
    const items = new Set<NestingItem>();
    for (let before = -1; before !== items.size; ) {
      before = items.size;
      for (const item of left) {
        if (!item.boards.some((b) => boards.has(b))) continue;
        items.add(item);
        for (const b of item.boards) boards.add(b);
      }
    }
    // An item without a board is a group of its own.
    if (items.size === 0) items.add(left[0]!);
    groups.push({
      ...instance,
      items: left.filter((i) => items.has(i)),
      boards: instance.boards.filter((b) => boards.has(b.id)),
    });
    left.splice(0, left.length, ...left.filter((i) => !items.has(i)));
  }
  return groups;
}

const partOf = (layout: Layout, { items }: NestingInstance): Layout => {
  const ids = new Set(items.map((i) => i.id));
  return {
    kind: 'layout',
    placements: layout.placements.filter((p) => ids.has(p.item)),
    unplaced: layout.unplaced.filter((id) => ids.has(id)),
  };
};

const together = (parts: readonly Layout[]): Layout => ({
  kind: 'layout',
  placements: parts.flatMap((p) => p.placements),
  unplaced: parts.flatMap((p) => p.unplaced),
});

/** What a change must gain of the boards, mm²: a sheet's edge by a tenth of a millimetre is no reason to move parts. */
const WORTH = 100;

/**
 * Improves a valid layout by the overlap-minimising strategy, each stock by itself with its share of the moves. Never
 * worse than `first` for any of them: a stock that gains nothing worth having stays as it lies. Same arguments, same layout.
 */
export function improveStocks(instance: NestingInstance, first: Layout, by: StockImprovement): Improved {
  const groups = groupsOf(instance);
  const parts = groups.map((g) => partOf(first, g));
  const last = by.stopAfter ?? by.moves;
  let made = 0;
  let goes = true;
  groups.forEach((group, k) => {
    const share = Math.floor((by.moves * group.items.length) / instance.items.length);
    const begun = parts[k]!;
    const before = scoreLayout(group, begun);
    let used = 0;
    const tick = (): boolean => {
      goes &&= made < last && !(by.enough?.() ?? false);
      if (!goes || used >= share) return false;
      used++;
      made++;
      return true;
    };
    // A coarser outline than in trials: here every part has a web round it, and few moves.
    const options = { ...overlapMinimising.defaults, addedArea: 0.01, from: begun };
    const run = { random: seededRandom(by.seed), tick, spent: () => Math.min(1, used / Math.max(1, share)) };
    runNesting(overlapMinimising, group, options, run, (layout, score) => {
      if (compareScores(score, { ...before, extent: before.extent - WORTH }) > 0) return;
      parts[k] = layout;
      const all = together(parts);
      by.found?.({ layout: all, score: scoreLayout(instance, all), moves: made, of: by.moves });
    });
  });
  return { layout: together(parts), moves: made };
}
