import { ringBounds, snap } from '@haunch/geometry';
import type { Axis, MasterPart } from '@haunch/model';
import { AXIS_NAMES } from '../axis-names.js';
import { axisVector, cross, dot, frameOf, minus, toWorld, type Vec } from '../frame.js';
import { partOfMaster } from '../parts-of-master.js';

/** A direction as a master writes it: by name where it lies along an axis. */
export const namedAxis = (v: Vec): Axis =>
  AXIS_NAMES.find(([, a]) => dot(a, v) > 1 - 1e-9)?.[0] ?? [v[0] + 0, v[1] + 0, v[2] + 0];

/** The box round a part in the world: its lowest and highest corner. mm */
export function boxOf(p: MasterPart): { readonly low: Vec; readonly high: Vec } {
  const f = frameOf(p);
  const { minX, minY, maxX, maxY } = ringBounds(partOfMaster(p).outline.ring);
  const corners = [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ].flatMap(([x, y]) => [0, p.thickness].map((w) => toWorld(f, { x: x!, y: y! }, w)));
  const all = (pick: (...n: number[]) => number): Vec =>
    [0, 1, 2].map((k) => pick(...corners.map((c) => c[k]!))) as unknown as Vec;
  return { low: all(Math.min), high: all(Math.max) };
}

/** The box round parts. */
export function boxRound(parts: readonly MasterPart[]): { readonly low: Vec; readonly high: Vec } {
  const boxes = parts.map(boxOf);
  const all = (pick: (...n: number[]) => number, of: 'low' | 'high'): Vec =>
    [0, 1, 2].map((k) => pick(...boxes.map((b) => b[of][k]!))) as unknown as Vec;
  return { low: all(Math.min, 'low'), high: all(Math.max, 'high') };
}

/** Parts seen in other axes: X, Y, Z of the new world as directions of the old one; its box begins at `corner`. */
export function inWorld(
  parts: readonly MasterPart[],
  [x, y, z]: readonly [Vec, Vec, Vec],
  corner: Vec = [0, 0, 0],
): MasterPart[] {
  const turn = (v: Vec): Vec => [dot(v, x) + 0, dot(v, y) + 0, dot(v, z) + 0];
  const turned = parts.map((p): MasterPart => {
    const f = frameOf(p);
    return {
      ...p,
      frame: {
        origin: [...turn(f.origin)],
        u: namedAxis(turn(f.u)),
        v: namedAxis(turn(f.v)),
        n: namedAxis(turn(f.n)),
      },
    };
  });
  const shift = minus(corner, boxRound(turned).low);
  return turned.map((p) => ({
    ...p,
    frame: {
      ...p.frame,
      origin: p.frame.origin.map((v, k) => snap(v + shift[k]!)) as [number, number, number],
    },
  }));
}

/**
 * Axes for a piece that nobody has said which way up it stands: X along its greatest extent, Z along the next, Y along
 * the least, the directions of `up` and `front` (towards the viewer, −Y) kept where they are given.
 */
export function usualAxes(
  parts: readonly MasterPart[],
  { up, front }: { readonly up?: Vec; readonly front?: Vec } = {},
): readonly [Vec, Vec, Vec] {
  const { low, high } = boxRound(parts);
  const unit = (k: number): Vec => [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0];
  const byExtent = [0, 1, 2].sort((a, b) => high[b]! - low[b]! - (high[a]! - low[a]!) || a - b).map(unit);
  const square = (a: Vec, b: Vec): boolean => Math.abs(dot(a, b)) < 1e-6;
  if (up && front && square(up, front)) {
    const y: Vec = [-front[0], -front[1], -front[2]];
    return [cross(y, up), y, up];
  }
  if (front) {
    const y: Vec = [-front[0], -front[1], -front[2]];
    const z = byExtent.filter((a) => square(a, y))[1]!;
    return [cross(y, z), y, z];
  }
  const z = up ?? byExtent[1]!;
  const x = byExtent.find((a) => square(a, z))!;
  return [x, cross(z, x), z];
}

/** The direction in the world of a part's face. */
export const faceDirection = (p: MasterPart, face: 'n-' | 'n+'): Vec => {
  const n = axisVector(p.frame.n);
  return face === 'n+' ? n : [-n[0], -n[1], -n[2]];
};
