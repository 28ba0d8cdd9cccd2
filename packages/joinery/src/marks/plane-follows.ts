import { snap } from '@haunch/geometry';
import type { Mark, MasterPart } from '@haunch/model';
import { frameOf, type Vec } from '../frame.js';
import type { Plate, PlateSide } from '../plate.js';
import { SAME_DIRECTION } from '../tolerances.js';

/** A world axis: X, Y or Z. */
export type AxisIndex = 0 | 1 | 2;

/** Where a plane lies at the design's thicknesses, and what it follows: shares of plates' thicknesses. No shares: it stays. mm */
export interface PlaneFollows {
  readonly axis: AxisIndex;
  readonly at: number;
  readonly terms: Readonly<Record<string, number>>;
}

const AXES = ['X', 'Y', 'Z'] as const;

/** The axis along which a direction lies, and its sense; nothing for one that is askew. */
export function axisOf(v: Vec): { readonly axis: AxisIndex; readonly sense: 1 | -1 } | undefined {
  for (const axis of [0, 1, 2] as const)
    if (Math.abs(v[axis]) > 1 - SAME_DIRECTION) return { axis, sense: v[axis] > 0 ? 1 : -1 };
  return undefined;
}

/** Whether a plane moves at all when thicknesses change. */
export const moves = (f: PlaneFollows): boolean => Object.keys(f.terms).length > 0;

/** The same plane's kin at another place: so far along its axis, following the same. */
export const shifted = (f: PlaneFollows, at: number): PlaneFollows => ({ ...f, at });

/** Whether two planes follow the same. */
export const sameFollowing = (a: PlaneFollows, b: PlaneFollows): boolean => {
  const [x, y] = [Object.entries(a.terms), b.terms];
  return x.length === Object.keys(y).length && x.every(([k, v]) => y[k] === v);
};

/** Where a side of a plate lies, by what holds when the plate's thickness changes; nothing for a plate that stands askew. */
export function sideFollows(part: MasterPart, plate: Plate, side: PlateSide): PlaneFollows | undefined {
  const across = axisOf(frameOf(part).n);
  if (!across) return undefined;
  const { axis, sense } = across;
  const base = plate.frame.origin[axis];
  // Of n−, of n+, by the hold; a pocket's floor goes with the face from which it is sunk.
  const share = { 'n-': { 'n-': 0, 'n+': -1, mid: -0.5 }, 'n+': { 'n-': 1, 'n+': 0, mid: 0.5 } } as const;
  const face =
    side.tag === 'n-' || side.tag === 'n+'
      ? side.tag
      : (part.pockets.find((p) => `${p.id}/floor` === side.tag)?.face ?? 'n-');
  const s = share[face][part.hold] * sense;
  return { axis, at: base + sense * side.w, terms: s === 0 ? {} : { [part.id]: s } };
}

/** A mark of a plane that follows, named after what it is made of: `X386+D1/2`, `Z760-TOP`. */
export function markOf(f: PlaneFollows, thicknesses: ReadonlyMap<string, number>): Mark {
  const constant = snap(
    f.at - Object.entries(f.terms).reduce((sum, [id, s]) => sum + s * thicknesses.get(id)!, 0),
  );
  const shares = Object.entries(f.terms)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(
      ([id, s]) =>
        `${s < 0 ? '-' : '+'}${id}${Math.abs(s) === 0.5 ? '/2' : Math.abs(s) === 1 ? '' : `*${Math.abs(s)}`}`,
    );
  return {
    id: `${AXES[f.axis]}${constant}${shares.join('')}`,
    axis: AXES[f.axis],
    constant,
    terms: { ...f.terms },
  };
}
