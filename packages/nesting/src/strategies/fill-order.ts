import { type CornerPreference, findPlace, type Obstacle } from './find-place.js';
import type { Stance, Stock } from './stock.js';

/** In which order items are placed, in which stance each (−1: the best), and from which corner. */
export interface Plan {
  readonly order: readonly number[];
  readonly stances: readonly number[];
  readonly corner: CornerPreference;
}

/** An item that lies on a bed; x, y is the lower left corner of its box, steps. */
export interface Lying {
  readonly item: number;
  readonly bed: number;
  readonly stance: Stance;
  readonly x: number;
  readonly y: number;
}

/** What came of a plan: one entry a place in the order, undefined where there was no room. */
export interface Filled {
  readonly plan: Plan;
  readonly lying: readonly (Lying | undefined)[];
}

/** Stops a fill: `spent` when the budget is at an end, `worse` when it can no longer be good enough. */
export type Stop = 'spent' | 'worse';

/**
 * Carries a plan out: one item after the other, each on the first bed that has room, at its best place. Each
 * trial of a stance on a bed takes one tick; when there are no more, gives up, or leaves the rest without room. With `known`, the first `from` items lie as they do there. Gives up when more than
 * `unplacedArea` mm² find no room.
 */
export function fillOrder(
  stock: Stock,
  plan: Plan,
  tick: () => boolean,
  known?: { readonly filled: Filled; readonly from: number },
  unplacedArea = Infinity,
  whenSpent: 'give up' | 'leave the rest' = 'give up',
): Filled | Stop {
  const onBed: Lying[][] = stock.beds.map(() => []);
  const lying: (Lying | undefined)[] = [];
  // A bed only fills up: where a shape found no room, the next of its kind finds none.
  const without: Set<number>[] = stock.beds.map(() => new Set());
  let left = 0;
  const keep = (l: Lying | undefined, item: number): void => {
    lying.push(l);
    if (l) onBed[l.bed]!.push(l);
    else left += stock.items[item]!.area;
  };
  if (known) for (let i = 0; i < known.from; i++) keep(known.filled.lying[i], plan.order[i]!);
  for (let i = lying.length; i < plan.order.length; i++) {
    const item = plan.order[i]!;
    const { stances, beds } = stock.items[item]!;
    const wanted = plan.stances[item]!;
    let found: Lying | undefined;
    for (const bed of beds) {
      const order =
        wanted < 0
          ? stances.map((_, k) => [k])
          : [[wanted], ...stances.map((_, k) => [k]).filter(([k]) => k !== wanted)];
      let foundReach = Infinity;
      let foundAside = Infinity;
      for (const [k] of order) {
        const stance = stances[k!]!;
        if (!tick()) {
          if (whenSpent === 'give up') return 'spent';
          while (lying.length < plan.order.length) lying.push(undefined);
          return { plan, lying };
        }
        if (without[bed]!.has(stance.shape)) continue;
        const place = placeOn(stock, bed, onBed[bed]!, stance, plan.corner);
        if (!place) {
          without[bed]!.add(stance.shape);
          continue;
        }
        const [x, y] = place;
        const shape = stock.shapes[stance.shape]!;
        const byX = plan.corner.first === 'x';
        const reach = byX ? x + shape.width : y + shape.height;
        const aside = (byX ? y : x) * plan.corner.second;
        if (reach > foundReach || (reach === foundReach && aside >= foundAside)) continue;
        found = { item, bed, stance, x, y };
        foundReach = reach;
        foundAside = aside;
        if (wanted >= 0) break;
      }
      if (found) break;
    }
    keep(found, item);
    if (left > unplacedArea) return 'worse';
  }
  return { plan, lying };
}

function placeOn(
  stock: Stock,
  bed: number,
  lying: readonly Lying[],
  stance: Stance,
  corner: CornerPreference,
): readonly [number, number] | undefined {
  const shape = stock.shapes[stance.shape]!;
  const u = stock.beds[bed]!.usable;
  const room = [u[0], u[1], u[2] - shape.width, u[3] - shape.height] as const;
  if (room[0] > room[2] || room[1] > room[3]) return undefined;
  const obstacles: Obstacle[] = stock.onBed(bed, stance.shape).map((noFit) => ({ noFit, x: 0, y: 0 }));
  for (const l of lying)
    obstacles.push({ noFit: stock.between(l.stance.shape, stance.shape), x: l.x, y: l.y });
  return findPlace(room, obstacles, corner);
}
