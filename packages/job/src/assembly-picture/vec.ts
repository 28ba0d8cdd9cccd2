import type { Axis } from '@haunch/model';

/** A place or direction in the world, mm. */
export type Vec = readonly [number, number, number];

export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** `a` plus `k` times `b`. */
export const along = (a: Vec, k: number, b: Vec): Vec => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
export const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const unit = (a: Vec): Vec => along([0, 0, 0], 1 / Math.hypot(...a), a);

const NAMED: Readonly<Record<string, Vec>> = {
  '+X': [1, 0, 0],
  '-X': [-1, 0, 0],
  '+Y': [0, 1, 0],
  '-Y': [0, -1, 0],
  '+Z': [0, 0, 1],
  '-Z': [0, 0, -1],
};

/** The unit vector that an axis of a master stands for. */
export const axisVector = (axis: Axis): Vec => (typeof axis === 'string' ? NAMED[axis]! : unit(axis));
