import type { Cutter, Machine } from '@haunch/model';
import { finishFeeds } from '../feeds/finish-feeds.js';
import { speedsOf } from '../speeds.js';
import { type CuttingForce, cuttingForce } from './cutting-force.js';

/** What a pass takes in a full kerf of a sheet of this specific energy (N/mm²), `depth` mm deep, at the speeds that the cutter runs at. */
export function passForce(cutter: Cutter, machine: Machine, depth: number, energy: number): CuttingForce {
  const { cut, rpm } = speedsOf(cutter, machine);
  const { diameter, flutes } = cutter;
  return cuttingForce({ diameter, flutes, depth, width: diameter, feed: cut, rpm }, energy);
}

/** What a finishing pass takes, `stock` mm wide and `depth` mm deep. */
export function finishForce(
  cutter: Cutter,
  machine: Machine,
  { stock, depth }: { readonly stock: number; readonly depth: number },
  energy: number,
): CuttingForce {
  const { rpm } = speedsOf(cutter, machine);
  const { wall } = finishFeeds(cutter, machine, stock);
  const { diameter, flutes } = cutter;
  return cuttingForce({ diameter, flutes, depth, width: Math.min(stock, diameter), feed: wall, rpm }, energy);
}

/** The thickness of each pass, mm. */
export const passThicknesses = (depths: readonly number[]): number[] =>
  depths.map((d, i) => d - (depths[i - 1] ?? 0));
