import type { Point } from '@haunch/geometry';
import type { Axis, MasterPart } from '@haunch/model';

/** A place or direction in the world, mm. */
export type Vec = readonly [number, number, number];

/** Where a plate stands: world = origin + u·U + v·V + w·N, with w from 0 (face n−) to the thickness (face n+). */
export interface Frame {
  readonly origin: Vec;
  readonly u: Vec;
  readonly v: Vec;
  readonly n: Vec;
}

export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const minus = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** `a` plus `k` times `b`. */
export const along = (a: Vec, k: number, b: Vec): Vec => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
export const length = (a: Vec): number => Math.hypot(a[0], a[1], a[2]);

const NAMED: Readonly<Record<string, Vec>> = {
  '+X': [1, 0, 0],
  '-X': [-1, 0, 0],
  '+Y': [0, 1, 0],
  '-Y': [0, -1, 0],
  '+Z': [0, 0, 1],
  '-Z': [0, 0, -1],
};

/** The vector that an axis of a master stands for. */
export const axisVector = (axis: Axis): Vec => (typeof axis === 'string' ? NAMED[axis]! : axis);

/** The frame of a master's part, in vectors. */
export const frameOf = ({ frame }: Pick<MasterPart, 'frame'>): Frame => ({
  origin: frame.origin,
  u: axisVector(frame.u),
  v: axisVector(frame.v),
  n: axisVector(frame.n),
});

/** Where the point of a plate lies in the world; `w` above its face n−. */
export const toWorld = (f: Frame, p: Point, w: number): Vec =>
  along(along(along(f.origin, p.x, f.u), p.y, f.v), w, f.n);

/** Where a place of the world lies in a plate's plane, and how far above its face n−. */
export function inPlate(f: Frame, x: Vec): Point & { readonly w: number } {
  const d = minus(x, f.origin);
  return { x: dot(d, f.u), y: dot(d, f.v), w: dot(d, f.n) };
}

/** The direction in the world of a direction in a plate's plane. */
export const directionInWorld = (f: Frame, d: Point): Vec => along(along([0, 0, 0], d.x, f.u), d.y, f.v);
