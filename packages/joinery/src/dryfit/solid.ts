import { type Ring, ringBounds, type Vertex } from '@haunch/geometry';
import type { Face, Part } from '@haunch/model';
import { along, cross, dot, type Frame, length, type Vec } from '../frame.js';

/** A slice of a plate between two heights, through which its section is the same. mm, in the plate's (u, v, w). */
export interface Layer {
  readonly w: readonly [number, number];
  readonly outer: Ring;
  readonly voids: readonly { readonly id: string; readonly ring: Ring }[];
}

/** A plate as it stands in the world: layers above each other, and the box round them. mm. */
export interface Solid {
  readonly id: string;
  readonly frame: Frame;
  readonly thickness: number;
  readonly part: Part;
  readonly layers: readonly Layer[];
  readonly box: readonly [Vec, Vec];
}

/** Vectors are given with all their digits when their length is 1 within this. */
const ALL_DIGITS = 1e-9;
/** What four decimals leave open of an angle, radians. */
const OPEN = 1e-4;
/** Angles that plates are drawn at are multiples of this (common practice, no source): half a degree. */
const STEP = Math.PI / 360;

/**
 * A direction of unit length. One in a plane of the axes that was written with four decimals may mean the half degree
 * that it is nearest to: (0.866, 0.5, 0) is thirty degrees, and half a metre off by more than contact allows if not.
 */
function unit(a: Vec): Vec {
  const l = length(a);
  const at = [0, 1, 2].filter((k) => Math.abs(a[k]!) > ALL_DIGITS);
  const [i, k] = at;
  if (Math.abs(l - 1) > ALL_DIGITS && at.length === 2) {
    const angle = Math.atan2(a[k!]!, a[i!]!);
    const meant = Math.round(angle / STEP) * STEP;
    if (Math.abs(angle - meant) < OPEN)
      return [0, 1, 2].map((x) =>
        x === i ? Math.cos(meant) : x === k ? Math.sin(meant) : 0,
      ) as unknown as Vec;
  }
  return along([0, 0, 0], 1 / l, a);
}

/** The frame with its vectors made square to the last digit: a component is often written with four decimals. */
function squared({ origin, u, v }: Frame): Frame {
  const x = unit(u);
  const w = unit(v);
  const across = along(w, -dot(w, x), x);
  const y = along([0, 0, 0], 1 / length(across), across);
  return { origin, u: x, v: y, n: cross(x, y) };
}

/** The heights that a pocket takes away, above face n−. */
const heights = (face: Face, depth: number, t: number): readonly [number, number] =>
  face === 'n-' ? [0, Math.min(depth, t)] : [Math.max(0, t - depth), t];

function boxOf(part: Part, f: Frame, t: number): [Vec, Vec] {
  const b = ringBounds(part.outline.ring);
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const x of [b.minX, b.maxX])
    for (const y of [b.minY, b.maxY])
      for (const w of [0, t])
        for (const k of [0, 1, 2] as const) {
          const at = f.origin[k] + x * f.u[k] + y * f.v[k] + w * f.n[k];
          least[k] = Math.min(least[k], at);
          most[k] = Math.max(most[k], at);
        }
  return [least, most];
}

/**
 * A plate in the world. Its curves are those to be cut, reliefs included. Round holes are left out: no plate enters
 * them, so that they change no fit.
 */
export function solidOf(part: Part, frame: Frame, thickness: number): Solid {
  const f = squared(frame);
  const pockets = part.pockets.map((p) => ({ pocket: p, w: heights(p.face, p.depth, thickness) }));
  const stops = [...new Set([0, thickness, ...pockets.flatMap((p) => p.w)])].sort((a, b) => a - b);
  const layers = stops.slice(1).map((to, i): Layer => {
    const from = stops[i]!;
    const middle = (from + to) / 2;
    return {
      w: [from, to],
      outer: part.outline.ring,
      voids: [
        ...part.through.map((c) => ({ id: c.id, ring: c.ring })),
        ...pockets
          .filter((p) => p.w[0] < middle && middle < p.w[1])
          .map((p) => ({ id: p.pocket.id, ring: p.pocket.ring })),
      ],
    };
  });
  return { id: part.id, frame: f, thickness, part, layers, box: boxOf(part, f, thickness) };
}

/** The same plate somewhere else, mm. */
export const movedSolid = (s: Solid, by: Vec): Solid => ({
  ...s,
  frame: { ...s.frame, origin: along(s.frame.origin, 1, by) },
  box: [along(s.box[0], 1, by), along(s.box[1], 1, by)],
});

/** The ring mirrored in one coordinate about half of `about`, walked so that it turns as before. */
export function mirroredRing(r: Ring, about: number, axis: 'x' | 'y'): Ring {
  const n = r.vertices.length;
  const out: Vertex[] = [];
  for (let i = n - 1; i >= 0; i--) {
    const at = r.vertices[(i + 1) % n]!;
    const { bulge, tag } = r.vertices[i]!;
    out.push({
      x: axis === 'x' ? about - at.x : at.x,
      y: axis === 'y' ? about - at.y : at.y,
      bulge,
      ...(tag === undefined ? {} : { tag }),
    });
  }
  return { vertices: out };
}
