import { AXIS_NAMES } from '../axis-names.js';
import { along, dot, length, type Vec } from '../frame.js';
import { SAME_WAY } from './dryfit-tolerance.js';

/** The other way. */
export const back = (d: Vec): Vec => [-d[0] + 0, -d[1] + 0, -d[2] + 0];

/** Whether two unit vectors point the same way. */
export const sameWay = (a: Vec, b: Vec): boolean => dot(a, b) > 1 - SAME_WAY;

/** A direction of unit length; an axis where it is one. */
export function unitVector(d: Vec): Vec {
  const u = along([0, 0, 0], 1 / length(d), d);
  return AXIS_NAMES.find(([, axis]) => sameWay(axis, u))?.[1] ?? u;
}

/** A direction in words: `+X`, or its three components. */
export const directionName = (d: Vec): string =>
  AXIS_NAMES.find(([, axis]) => sameWay(axis, d))?.[0] ?? `(${d.map((x) => +x.toFixed(4) + 0).join(', ')})`;

/** Directions by their components, for a total order. */
const byComponents = (a: Vec, b: Vec): number => b[2] - a[2] || b[1] - a[1] || b[0] - a[0];

/** Directions with their opposites, each once, in a fixed order: upwards first. */
export function distinctDirections(all: readonly Vec[]): Vec[] {
  const out: Vec[] = [];
  for (const d of all)
    for (const u of [unitVector(d), back(unitVector(d))]) if (!out.some((o) => sameWay(o, u))) out.push(u);
  return out.sort(byComponents);
}
