import { snap } from '@haunch/geometry';
import type { Mark, MasterPart } from '@haunch/model';
import { cross, dot, frameOf, length, type Vec } from '../frame.js';
import type { Plate, PlateSide } from '../plate.js';
import { SAME_DIRECTION } from '../tolerances.js';

/**
 * Where a plane lies at the design's thicknesses, and what it follows: shares of plates' thicknesses. No shares: it stays. mm
 * Measured along `axis`: a world axis, or a unit vector whose last component that is not 0 lies above it. What leans to a plate
 * is measured where it cuts that plate's face n−, as a mark is.
 */
export interface PlaneFollows {
  readonly axis: Vec;
  readonly at: number;
  readonly terms: Readonly<Record<string, number>>;
}

const WORLD: readonly (readonly [name: 'X' | 'Y' | 'Z', axis: Vec])[] = [
  ['X', [1, 0, 0]],
  ['Y', [0, 1, 0]],
  ['Z', [0, 0, 1]],
];

/** Shares are sums of products of directions; what is beyond these digits is rounding. */
const share = (s: number): number => +s.toFixed(12) + 0;

/** The axis along which a direction is measured, and its sense on it: X, Y or Z where it lies along one. */
export function axisOf(v: Vec): { readonly axis: Vec; readonly sense: 1 | -1 } {
  for (const [, axis] of WORLD) {
    const along = dot(v, axis);
    if (Math.abs(along) > 1 - SAME_DIRECTION) return { axis, sense: along > 0 ? 1 : -1 };
  }
  const sense = [...v].reverse().find((c) => Math.abs(c) > SAME_DIRECTION)! > 0 ? 1 : -1;
  return { axis: [sense * v[0] + 0, sense * v[1] + 0, sense * v[2] + 0], sense };
}

/** Whether two directions lie along one line. */
export const sameAxis = (a: Vec, b: Vec): boolean => length(cross(a, b)) < SAME_DIRECTION;

/** Whether a plane moves at all when thicknesses change. */
export const moves = (f: PlaneFollows): boolean => Object.keys(f.terms).length > 0;

/** The same plane's kin through another place of the world, following the same. */
export const shifted = (f: PlaneFollows, there: Vec): PlaneFollows => ({ ...f, at: dot(f.axis, there) });

/** Whether two planes follow the same. */
export const sameFollowing = (a: PlaneFollows, b: PlaneFollows): boolean => {
  const [x, y] = [Object.entries(a.terms), b.terms];
  return (
    sameAxis(a.axis, b.axis) &&
    x.length === Object.keys(y).length &&
    x.every(([k, v]) => Math.abs((y[k] ?? 0) - v) < SAME_DIRECTION)
  );
};

/** Where a side of a plate lies, by what holds when the plate's thickness changes. */
export function sideFollows(part: MasterPart, plate: Plate, side: PlateSide): PlaneFollows {
  const { n } = frameOf(part);
  const { axis } = axisOf(n);
  const slope = share(dot(axis, n));
  // Of n−, of n+, by the hold; a pocket's floor goes with the face from which it is sunk.
  const shares = { 'n-': { 'n-': 0, 'n+': -1, mid: -0.5 }, 'n+': { 'n-': 1, 'n+': 0, mid: 0.5 } } as const;
  const face =
    side.tag === 'n-' || side.tag === 'n+'
      ? side.tag
      : (part.pockets.find((p) => `${p.id}/floor` === side.tag)?.face ?? 'n-');
  const s = shares[face][part.hold] * slope;
  return { axis, at: dot(axis, plate.frame.origin) + slope * side.w, terms: s === 0 ? {} : { [part.id]: s } };
}

/**
 * What the cut of a plane with a plate's face n− follows where an arris, `ownShare` of the plate's thickness above that
 * face, lies in the plane: the plane, less the plate's own slant under it.
 */
export function leanFollows(
  f: PlaneFollows,
  part: string,
  slope: number,
  ownShare: 0 | 1,
): PlaneFollows['terms'] {
  const own = share((f.terms[part] ?? 0) - ownShare * slope);
  const { [part]: _, ...rest } = f.terms;
  return own === 0 ? rest : { ...rest, [part]: own };
}

/** Names directions that are no axis of the world after the first plate that faces along them. */
export type NameAxis = (axis: Vec) => string;

/** The names of directions in which plates face, by these parts in their order. */
export function axisNames(parts: readonly MasterPart[]): NameAxis {
  const near = (a: Vec, b: Vec): boolean => length(cross(a, b)) < 1e-9;
  const known = WORLD.map(([name, axis]): [string, Vec] => [name, axis]);
  for (const p of parts) {
    const { axis } = axisOf(frameOf(p).n);
    if (!known.some(([, a]) => near(a, axis))) known.push([`n(${p.id})`, axis]);
  }
  return (axis) =>
    known.find(([, a]) => near(a, axis))?.[0] ?? `(${axis.map((c) => +c.toFixed(6) + 0).join(',')})`;
}

/** A mark of a plane that follows, named after what it is made of: `X386+D1/2`, `Z760-TOP`, `n(BACK)-163.04-BACK-BASE*0.28`. */
export function markOf(f: PlaneFollows, thicknesses: ReadonlyMap<string, number>, nameOf: NameAxis): Mark {
  const constant = snap(
    f.at - Object.entries(f.terms).reduce((sum, [id, s]) => sum + s * thicknesses.get(id)!, 0),
  );
  const shares = Object.entries(f.terms)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, s]) => {
      const size = +Math.abs(s).toFixed(6);
      return `${s < 0 ? '-' : '+'}${id}${size === 0.5 ? '/2' : size === 1 ? '' : `*${size}`}`;
    });
  const world = WORLD.find(([, axis]) => axis.every((c, k) => c === f.axis[k]))?.[0];
  return {
    id: `${nameOf(f.axis)}${constant}${shares.join('')}`,
    ...(world ? { axis: world } : { normal: [...f.axis] }),
    constant,
    terms: { ...f.terms },
  };
}
