import type { Bed } from '../bed.js';
import type { Arrangement } from './arrangement.js';
import type { Search } from './search.js';
import type { Axis } from './shrink.js';

/** Least x, least y, greatest x, greatest y of what lies on a bed; undefined where nothing does. */
function spanOn(
  s: Search,
  a: Arrangement,
  bed: number,
): readonly [number, number, number, number] | undefined {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < s.pieces.length; i++) {
    if (a.room[i] !== bed) continue;
    const v = s.variants[a.variant[i]!]!;
    x0 = Math.min(x0, a.x[i]!);
    y0 = Math.min(y0, a.y[i]!);
    x1 = Math.max(x1, a.x[i]! + v.width);
    y1 = Math.max(y1, a.y[i]! + v.height);
  }
  return x0 === Infinity ? undefined : [x0, y0, x1, y1];
}

/** Area of a bed's box, square steps. */
export const bedArea = ({ box: [x0, y0, x1, y1] }: Bed): number => (x1 - x0) * (y1 - y0);

/** What all of a bed counts: its area by its cost, square steps. */
export const bedCost = (bed: Bed): number => bedArea(bed) * bed.cost;

/** Numbers of the beds on which something lies. */
export function bedsUsed(a: Arrangement): number[] {
  return [...new Set(a.room)].sort((p, q) => p - q);
}

/**
 * What an arrangement takes of the beds, each by its cost, square steps: all of every bed on which something lies, less the widest
 * strip at an end of one of them; as the score has it.
 */
export function extentOf(s: Search, a: Arrangement): number {
  let used = 0;
  let spare = 0;
  for (const k of bedsUsed(a)) {
    const bed = s.beds[k]!;
    const [bx0, by0, bx1, by1] = bed.box;
    const [x0, y0, x1, y1] = spanOn(s, a, k)!;
    used += bedCost(bed);
    spare = Math.max(
      spare,
      Math.max(bx1 - x1, x0 - bx0) * (by1 - by0) * bed.cost,
      Math.max(by1 - y1, y0 - by0) * (bx1 - bx0) * bed.cost,
    );
  }
  return used - spare;
}

/** What the beds would take if one were cut off after the last piece along an axis, square steps. */
export function extentAlong(s: Search, a: Arrangement, last: number, axis: Axis): number {
  const used = bedsUsed(a).reduce((sum, k) => sum + bedCost(s.beds[k]!), 0);
  const { box, cost } = s.beds[last]!;
  const [bx0, by0, bx1, by1] = box;
  const [, , x1, y1] = spanOn(s, a, last) ?? [bx0, by0, bx0, by0];
  return used - cost * (axis === 'x' ? (bx1 - x1) * (by1 - by0) : (by1 - y1) * (bx1 - bx0));
}
