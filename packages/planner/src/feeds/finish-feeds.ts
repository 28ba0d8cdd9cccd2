import type { Cutter, Machine } from '@haunch/model';
import { chipThinning } from '../forces/cutting-force.js';
import { FASTEST_FINISH } from '../practice.js';
import { speedsOf } from '../speeds.js';

/** Feeds of a finishing pass, mm/min. */
export interface FinishFeeds {
  /** Along a wall. */
  readonly wall: number;
  /** Into an inside corner, where the next wall's stock meets the cutter as well. */
  readonly corner: number;
  /** Where there is no stock. */
  readonly idle: number;
}

/** Thickest chip against the feed per tooth at an engagement of `width`: 2·√(a(1 − a)) below half of the cutter, a = width / diameter. */
export const chipShare = (width: number, diameter: number): number => 1 / chipThinning(width, diameter);

/** How wide a cutter is engaged where it meets `stock` on its side and `turn` radians further round: it never is by more than itself. */
export function widthInCorner(stock: number, diameter: number, turn: number): number {
  const beside = Math.acos(1 - (2 * stock) / diameter);
  return ((1 - Math.cos(Math.min(Math.PI, beside + turn))) / 2) * diameter;
}

/**
 * Feeds of a pass that takes `stock` mm off a wall. Its chips are thinner than the feed per tooth (reference value C2), so it runs
 * faster by that, but no more than `FASTEST_FINISH` times, nor than the machine can. Before a square inside corner the engagement
 * rises by a quarter turn: there the feed falls so that the thickest chip, and with it the edge's force, stays what it is along the wall.
 */
export function finishFeeds(
  cutter: Pick<Cutter, 'rpm' | 'flutes' | 'chipLoad' | 'diameter'>,
  machine: Pick<Machine, 'maxRpm' | 'maxFeed'>,
  stock: number,
): FinishFeeds {
  const { cut, air } = speedsOf(cutter, machine);
  const { diameter } = cutter;
  const width = Math.min(stock, diameter);
  const wall = Math.min(machine.maxFeed, cut * Math.min(FASTEST_FINISH, chipThinning(width, diameter)));
  const turned = chipShare(widthInCorner(width, diameter, Math.PI / 2), diameter);
  const corner = wall * Math.min(1, chipShare(width, diameter) / turned);
  return { wall: Math.max(1, Math.round(wall)), corner: Math.max(1, Math.round(corner)), idle: air };
}
