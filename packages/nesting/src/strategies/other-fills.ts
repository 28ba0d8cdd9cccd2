import { moveRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import { changed, constructive, layoutOf } from './bottom-left-fill.js';
import { fillOrder, type Plan } from './fill-order.js';
import { CORNER_PREFERENCES } from './find-place.js';
import { stockOf } from './stock.js';

/** Two changes at least lead from one plan to the next. */
const CHANGES = 2;

/**
 * Other layouts of the same items, filled bottom-left in orders near the one in which a layout lies on its boards, from every corner. Each
 * is complete in itself; one trial of a turn of an item on a board takes one tick. Endless, but for the ticks.
 */
export function* otherFills(
  instance: NestingInstance,
  layout: Layout,
  run: { readonly random: () => number; readonly tick: () => boolean },
): Generator<Layout> {
  const stock = stockOf(instance, constructive.defaults);
  const lies = new Map(
    layout.placements.map((p) => [
      p.item,
      { board: instance.boards.findIndex((b) => b.id === p.board), motion: p.motion },
    ]),
  );
  const key = instance.items.map(({ id, outline }): readonly [number, number] => {
    const at = lies.get(id);
    return at ? [at.board, ringBounds(moveRing(at.motion, outline)).minX] : [Infinity, 0];
  });
  const order = instance.items
    .map((_, i) => i)
    .sort((a, b) => key[a]![0] - key[b]![0] || key[a]![1] - key[b]![1] || a - b);
  if (order.length < 2) return;
  const stances = order.map(() => -1);
  const plans: Plan[] = CORNER_PREFERENCES.map((corner) => ({ order, stances, corner }));
  for (let k = 0; ; k++) {
    let plan = plans[k % plans.length]!;
    if (k >= plans.length) for (let c = 0; c < CHANGES; c++) plan = changed(stock, plan, run.random).plan;
    // A change may lead to no trial: the search ends all the same.
    if (!run.tick()) return;
    const filled = fillOrder(stock, plan, run.tick);
    if (filled === 'spent' || filled === 'worse') return;
    yield layoutOf(stock, filled);
  }
}
