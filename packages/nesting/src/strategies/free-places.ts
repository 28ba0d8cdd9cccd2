import { moveRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance, Placement } from '@haunch/model';
import { constructive } from './bottom-left-fill.js';
import { CORNER_PREFERENCES, findPlace, type Obstacle } from './find-place.js';
import type { GridBox } from './no-fit.js';
import { ON_GRID, STEPS } from './outer-polygon.js';
import { stockOf } from './stock.js';

/** Each bed is looked over in so many windows across and up: a place in each, where there is one. */
const ACROSS = 6;
const UP = 3;

/**
 * Free places for some of the items of a layout, one by one, while all others stay: one in each window of every board that the item may lie on, in each of
 * its turns. One of them takes one tick; ends where there are no more.
 */
export function* freePlaces(
  instance: NestingInstance,
  layout: Layout,
  of: (item: string) => boolean,
  tick: () => boolean,
): Generator<Placement> {
  const stock = stockOf(instance, constructive.defaults);
  const number = new Map(stock.items.map((i, k) => [i.id, k]));
  const bedNumber = new Map(stock.beds.map((b, k) => [b.id, k]));
  const lying = layout.placements.flatMap((p) => {
    const k = number.get(p.item);
    const bed = bedNumber.get(p.board);
    if (k === undefined || bed === undefined) return [];
    const item = instance.items[k]!;
    const shape = stock.items[k]!.ofTurn[item.turns.indexOf(p.motion.turn)];
    if (shape === undefined) return [];
    const box = ringBounds(moveRing(p.motion, item.outline));
    const [x, y] = [Math.floor(box.minX * STEPS + ON_GRID) + 0, Math.floor(box.minY * STEPS + ON_GRID) + 0];
    return [{ p, k, bed, shape, x, y }];
  });
  for (const { p, k } of lying.filter((l) => of(l.p.item)))
    for (const bed of stock.items[k]!.beds)
      for (const stance of stock.items[k]!.stances) {
        const shape = stock.shapes[stance.shape]!;
        const [x0, y0, x1, y1] = stock.beds[bed]!.usable;
        const [right, top] = [x1 - shape.width, y1 - shape.height];
        if (right < x0 || top < y0) continue;
        const obstacles: Obstacle[] = stock.onBed(bed, stance.shape).map((noFit) => ({ noFit, x: 0, y: 0 }));
        for (const o of lying)
          if (o.bed === bed && o.p !== p)
            obstacles.push({ noFit: stock.between(o.shape, stance.shape), x: o.x, y: o.y });
        for (let w = 0; w < ACROSS * UP; w++) {
          if (!tick()) return;
          const [i, j] = [w % ACROSS, Math.floor(w / ACROSS)];
          const share = (from: number, to: number, n: number, of: number): number =>
            Math.round(from + ((to - from) * n) / of);
          const room: GridBox = [
            share(x0, right, i, ACROSS),
            share(y0, top, j, UP),
            share(x0, right, i + 1, ACROSS),
            share(y0, top, j + 1, UP),
          ];
          const at = findPlace(room, obstacles, CORNER_PREFERENCES[0]!);
          if (!at) continue;
          const motion = {
            mirror: false,
            turn: stance.turn,
            dx: (at[0] - stance.cornerX) / STEPS,
            dy: (at[1] - stance.cornerY) / STEPS,
          };
          yield { item: p.item, board: stock.beds[bed]!.id, motion };
        }
      }
}
