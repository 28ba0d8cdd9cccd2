import type { Layout, NestingInstance, NestingRun, NestingStrategy } from '@haunch/model';
import { type Filled, fillOrder, type Plan } from './fill-order.js';
import { CORNER_PREFERENCES } from './find-place.js';
import { STEPS } from './outer-polygon.js';
import { type Stock, stockOf } from './stock.js';

/** Options of the constructive strategy. */
export interface BottomLeftFillOptions {
  /** Outlines are coarsened outward until they have this many corners … */
  readonly corners: number;
  /** … or cover this share of their area more. 0: never coarser than flattening makes them. */
  readonly addedArea: number;
  /** How many costs back a change of the order may be as bad as (late acceptance). */
  readonly memory: number;
  /** After so many changes without a better layout the search starts from the best one, shaken. */
  readonly patience: number;
  readonly [more: string]: unknown;
}

/** What is minimised: area without room first, then what the layout takes of the beds. mm² */
interface Cost {
  readonly unplaced: number;
  readonly extent: number;
}

const isLess = (a: Cost, b: Cost): boolean =>
  a.unplaced < b.unplaced || (a.unplaced === b.unplaced && a.extent < b.extent);

/** So many items are first laid by their convex hulls: a layout within moments, and then closer ones … */
const MANY = 60;
/** … and so are fewer that have so many corners together. */
const MANY_CORNERS = 3000;

/** The first layout of more items than these is not completed beyond the budget: the rest is unplaced. */
const MOST_ANYWAY = 2000;

const NEVER: Cost = { unplaced: Infinity, extent: Infinity };

function costOf(stock: Stock, filled: Filled): Cost {
  let unplaced = 0;
  filled.lying.forEach((l, i) => {
    if (!l) unplaced += stock.items[filled.plan.order[i]!]!.area;
  });
  let used = 0;
  let spare = 0;
  stock.beds.forEach(({ box: [x0, y0, x1, y1], cost }, bed) => {
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const l of filled.lying) {
      if (l?.bed !== bed) continue;
      const s = stock.shapes[l.stance.shape]!;
      minX = Math.min(minX, l.x);
      minY = Math.min(minY, l.y);
      maxX = Math.max(maxX, l.x + s.width);
      maxY = Math.max(maxY, l.y + s.height);
    }
    if (minX === Infinity) return;
    used += (x1 - x0) * (y1 - y0) * cost;
    spare = Math.max(
      spare,
      Math.max(x1 - maxX, minX - x0) * (y1 - y0) * cost,
      Math.max(y1 - maxY, minY - y0) * (x1 - x0) * cost,
    );
  });
  return { unplaced, extent: (used - spare) / (STEPS * STEPS) };
}

/** A filled stock as a layout. */
export function layoutOf(stock: Stock, filled: Filled): Layout {
  const byItem = new Map(filled.lying.flatMap((l) => (l ? [[l.item, l] as const] : [])));
  return {
    kind: 'layout',
    placements: stock.items.flatMap((item, i) => {
      const l = byItem.get(i);
      if (!l) return [];
      const { turn, cornerX, cornerY } = l.stance;
      const motion = { mirror: false, turn, dx: (l.x - cornerX) / STEPS, dy: (l.y - cornerY) / STEPS };
      return [{ item: item.id, board: stock.beds[l.bed]!.id, motion }];
    }),
    unplaced: stock.items.flatMap((item, i) => (byItem.has(i) ? [] : [item.id])),
  };
}

/** Orders to begin with: by area, long side, height, width, and both sides together, greatest first. */
function firstOrders(stock: Stock): number[][] {
  const size = (i: number): readonly [number, number] => {
    const s = stock.items[i]!.stances[0];
    return s ? [stock.shapes[s.shape]!.width, stock.shapes[s.shape]!.height] : [0, 0];
  };
  const measures: ((i: number) => number)[] = [
    (i) => stock.items[i]!.area,
    (i) => Math.max(...size(i)),
    (i) => size(i)[1],
    (i) => size(i)[0],
    (i) => size(i)[0] + size(i)[1],
  ];
  return measures.map((m) => stock.items.map((_, i) => i).sort((a, b) => m(b) - m(a) || a - b));
}

/** A neighbour of a plan and the first place in the order that may lie otherwise. */
export function changed(
  stock: Stock,
  plan: Plan,
  random: () => number,
): { readonly plan: Plan; readonly from: number } {
  const n = plan.order.length;
  const below = (k: number): number => Math.floor(random() * k);
  const kind = (at: number): number => stock.items[plan.order[at]!]!.kind;
  const what = random();
  if (what < 0.06) {
    const corner = CORNER_PREFERENCES[below(CORNER_PREFERENCES.length)]!;
    return { plan: { ...plan, corner }, from: 0 };
  }
  if (what < 0.2) {
    const at = below(n);
    const item = plan.order[at]!;
    const count = stock.items[item]!.stances.length;
    if (count > 1) {
      const stances = [...plan.stances];
      stances[item] = below(count + 1) - 1;
      return { plan: { ...plan, stances }, from: at };
    }
  }
  const order = [...plan.order];
  let a = below(n);
  let b = below(n);
  for (let again = 0; again < 8 && kind(a) === kind(b); again++) {
    a = below(n);
    b = below(n);
  }
  if (what < 0.7) [order[a], order[b]] = [order[b]!, order[a]!];
  else order.splice(b, 0, ...order.splice(a, 1));
  return { plan: { ...plan, order }, from: Math.min(a, b) };
}

/** Of many turns so many, evenly spread, are enough for the very first layout. */
const FIRST_TURNS = 4;

const fewTurns = (turns: readonly number[]): readonly number[] =>
  turns.length <= FIRST_TURNS
    ? turns
    : Array.from({ length: FIRST_TURNS }, (_, k) => turns[Math.floor((k * turns.length) / FIRST_TURNS)]!);

/** Every item laid by its convex hull, the greatest first; counted, and completed whatever the budget. */
function filledByHulls(
  instance: NestingInstance,
  options: BottomLeftFillOptions,
  run: NestingRun,
): { readonly stock: Stock; readonly filled: Filled } {
  const items = instance.items.map((i) => ({ ...i, turns: fewTurns(i.turns) }));
  const stock = stockOf({ ...instance, items }, { ...options, hull: true });
  const plan = {
    order: firstOrders(stock)[0]!,
    stances: stock.items.map(() => -1),
    corner: CORNER_PREFERENCES[0]!,
  };
  const count = (): boolean => run.tick() || true;
  return { stock, filled: fillOrder(stock, plan, count) as Filled };
}

function* nest(
  instance: NestingInstance,
  options: BottomLeftFillOptions,
  run: NestingRun,
): Generator<Layout> {
  const n = instance.items.length;
  let bestCost = NEVER;
  let laid = false;
  const corners = instance.items.reduce((sum, i) => sum + i.outline.vertices.length, 0);
  if ((n >= MANY || corners >= MANY_CORNERS) && n <= MOST_ANYWAY) {
    const filled = filledByHulls(instance, options, run);
    const cost = costOf(filled.stock, filled.filled);
    // What finds no room as a hull may have some as it is.
    laid = cost.unplaced === 0;
    if (laid) {
      bestCost = cost;
      yield layoutOf(filled.stock, filled.filled);
      if (!run.tick()) return;
    }
  }
  const stock = stockOf(instance, options);
  const anyStance = stock.items.map(() => -1);
  let best: Filled | undefined;
  let current: Filled | undefined;
  let currentCost = NEVER;
  for (const order of firstOrders(stock))
    for (const corner of CORNER_PREFERENCES) {
      // The very first layout is completed whatever the budget, counting on: what is left out then has no room.
      const tick = laid ? () => run.tick() : () => run.tick() || n <= MOST_ANYWAY;
      const filled = fillOrder(
        stock,
        { order, stances: anyStance, corner },
        tick,
        undefined,
        bestCost.unplaced,
        laid ? 'give up' : 'leave the rest',
      );
      if (filled === 'spent') return;
      laid = true;
      if (filled === 'worse') continue;
      const cost = costOf(stock, filled);
      if (!isLess(cost, currentCost)) continue;
      best = current = filled;
      currentCost = cost;
      if (!isLess(cost, bestCost)) continue;
      bestCost = cost;
      yield layoutOf(stock, filled);
    }
  if (n < 2 || !best || !current) return;

  // Late acceptance hill climbing (Burke & Bykov, EJOR 258, 2017) over orders, stances and corners.
  let memory: Cost[] = Array.from({ length: options.memory }, () => currentCost);
  let idle = 0;
  for (let turn = 0; ; turn++) {
    const slot = turn % memory.length;
    const { plan, from } = changed(stock, current.plan, run.random);
    const bar: Cost = isLess(currentCost, memory[slot]!) ? memory[slot]! : currentCost;
    // A change costs a tick even when it leads to no trial, so that the search ends.
    if (!run.tick()) return;
    const filled = fillOrder(stock, plan, run.tick, { filled: current, from }, bar.unplaced);
    if (filled === 'spent') return;
    idle++;
    if (filled !== 'worse') {
      const cost = costOf(stock, filled);
      if (!isLess(bar, cost)) {
        current = filled;
        currentCost = cost;
      }
      if (isLess(cost, bestCost)) {
        best = filled;
        bestCost = cost;
        idle = 0;
        yield layoutOf(stock, filled);
      }
    }
    memory[slot] = currentCost;
    if (idle < options.patience) continue;
    idle = 0;
    let shaken: Plan = best.plan;
    for (let k = 0; k < 3 + n / 4; k++) shaken = changed(stock, shaken, run.random).plan;
    const again = fillOrder(stock, shaken, run.tick);
    if (again === 'spent') return;
    if (again === 'worse') continue;
    current = again;
    currentCost = costOf(stock, again);
    memory = memory.map(() => currentCost);
  }
}

/**
 * The constructive strategy: items one after the other at the bottom-left free place by no-fit polygons, and a
 * seeded search over the order, the turns and the corner to fill from. Each layout it yields is complete and
 * better than the one before; the same instance, options and run give the same layouts. One placement trial
 * (an item in one turn on one board) takes one tick, and so does each change of plan; the first layout is always
 * completed, unless it has more than 2000 items: what is not placed when the budget is spent is then unplaced. Never throws for an
 * instance without `instanceProblems`; an item that no board has room for is left unplaced.
 * Source: bottom-left-fill (Burke, Hellier, Kendall & Whitwell, Operations Research 54, 2006) on exact no-fit
 * polygons from convex pieces; late acceptance (Burke & Bykov, EJOR 258, 2017).
 */
export const constructive: NestingStrategy<BottomLeftFillOptions> = {
  name: 'bottom-left-fill',
  contract: 1,
  supports: { severalBoards: true, keepOuts: true, irregularBoards: true, defects: true },
  defaults: { corners: 4, addedArea: 0.03, memory: 20, patience: 300 },
  nest,
};
