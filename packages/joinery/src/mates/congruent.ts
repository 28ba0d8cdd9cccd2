import { type Point, type Ring, ringArea } from '@haunch/geometry';
import { type Frame, toWorld } from '../frame.js';
import type { FlatPart } from './flat-part.js';

const NEAR = 0.02;

interface Cut {
  readonly at: Point;
  readonly low: number;
  readonly high: number;
}

function cutsOf(p: FlatPart): Cut[] {
  const t = p.thickness;
  const put = (r: Ring, low: number, high: number): Cut[] => r.vertices.map((at) => ({ at, low, high }));
  return [
    ...p.through.flatMap((r) => put(r, 0, t)),
    ...p.pockets.flatMap(({ ring, depth, face }) =>
      face === 'n-' ? put(ring, 0, depth) : put(ring, t - depth, t),
    ),
  ];
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= NEAR;
const leave = (r: Ring, k: number): number =>
  Math.hypot(next(r, k).x - r.vertices[k]!.x, next(r, k).y - r.vertices[k]!.y);
const next = (r: Ring, k: number): Point => r.vertices[(k + 1) % r.vertices.length]!;

function carries(f: Frame, a: FlatPart, b: FlatPart): boolean {
  const there = cutsOf(b);
  const outer = b.outline.vertices;
  return (
    a.outline.vertices.every((p) => {
      const x = toWorld(f, p, 0);
      return outer.some((q) => near(x[0], q.x) && near(x[1], q.y));
    }) &&
    cutsOf(a).every((c) => {
      const x = toWorld(f, c.at, c.low);
      const y = toWorld(f, c.at, c.high);
      return there.some(
        (d) =>
          near(x[0], d.at.x) &&
          near(x[1], d.at.y) &&
          near(Math.min(x[2], y[2]), d.low) &&
          near(Math.max(x[2], y[2]), d.high),
      );
    })
  );
}

/** The frame of `a`'s drawing in `b`'s when the two are the same plate, turned or turned over; null otherwise. 0.02 mm */
export const congruence = (a: FlatPart, b: FlatPart): Frame | null => {
  for (const f of congruences(a, b)) return f;
  return null;
};

/** Every frame of `a`'s drawing in `b`'s in which the two are the same plate. 0.02 mm */
export function* congruences(a: FlatPart, b: FlatPart): Generator<Frame> {
  const n = a.outline.vertices.length;
  if (a.lean !== b.lean) return;
  if (n !== b.outline.vertices.length || Math.abs(a.thickness - b.thickness) > 1e-6) return;
  if (a.through.length !== b.through.length || a.pockets.length !== b.pockets.length) return;
  if (cutsOf(a).length !== cutsOf(b).length) return;
  const areas = [Math.abs(ringArea(a.outline)), Math.abs(ringArea(b.outline))] as const;
  if (Math.abs(areas[0] - areas[1]) > 1) return;
  let longest = 0;
  for (let k = 1; k < n; k++) if (leave(a.outline, k) > leave(a.outline, longest) + NEAR) longest = k;
  const p = a.outline.vertices[longest]!;
  const q = next(a.outline, longest);
  const long = leave(a.outline, longest);
  for (let k = 0; k < n; k++) {
    if (!near(leave(b.outline, k), long)) continue;
    const ends = [b.outline.vertices[k]!, next(b.outline, k)] as const;
    for (const [r, s] of [ends, [ends[1], ends[0]] as const])
      for (const side of [1, -1] as const) {
        const d = { x: (q.x - p.x) / long, y: (q.y - p.y) / long };
        const e = { x: (s.x - r.x) / long, y: (s.y - r.y) / long };
        // u = d.x·e − d.y·side·(e turned left), v = d.y·e + d.x·side·(e turned left)
        const u = { x: d.x * e.x + d.y * side * e.y, y: d.x * e.y - d.y * side * e.x };
        const v = { x: d.y * e.x - d.x * side * e.y, y: d.y * e.y + d.x * side * e.x };
        const f: Frame = {
          origin: [r.x - p.x * u.x - p.y * v.x, r.y - p.x * u.y - p.y * v.y, side === 1 ? 0 : a.thickness],
          u: [u.x, u.y, 0],
          v: [v.x, v.y, 0],
          n: [0, 0, side],
        };
        if (carries(f, a, b)) yield f;
      }
  }
}
