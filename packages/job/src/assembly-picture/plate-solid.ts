import { type Clip, circleRing, type Point, type Polygon } from '@haunch/geometry';
import { partsOfMaster } from '@haunch/joinery';
import type { Master, MasterPart, Part } from '@haunch/model';
import { cornerKey, type FlatCurve, flatCurve } from './flat-curve.js';
import { polygonArea } from './polygon-area.js';
import { along, axisVector, dot, type Vec } from './vec.js';

/** A flat side of a plate in the world: loops walked with the material on one side, holes the other way round. */
export interface SolidFace {
  readonly plate: string;
  /** From the material into the air. */
  readonly normal: Vec;
  readonly loops: readonly (readonly Vec[])[];
}

/** An arris of a plate. A `smooth` one lies within a curved wall and is seen only where that wall turns away. */
export interface Arris {
  readonly from: Vec;
  readonly to: Vec;
  /** The normals of the two walls that meet in it; absent where it is sharp. */
  readonly smooth?: readonly [Vec, Vec];
}

/** A plate as a solid: thickness, through cuts, pockets and holes. */
export interface Solid {
  readonly id: string;
  readonly faces: readonly SolidFace[];
  readonly arrises: readonly Arris[];
}

/** A polygon smaller than this is what rounding left, mm². */
const NOTHING = 1e-4;
/** Smaller holes are left out of small pictures, mm: they would be dots, and cost more than all else. */
const LEAST_HOLE = 12;
/** Walls that turn by less than this at a corner are one wall, as a sine. */
const STRAIGHT = 0.02;

/** A void in a plate from one height above face n− to another. */
interface Void {
  readonly curve: FlatCurve;
  readonly from: number;
  readonly to: number;
}

function voidsOf(part: Part, t: number, coarse: number): Void[] {
  const between = (face: 'n-' | 'n+', depth: number | 'through') => {
    const d = depth === 'through' ? t : Math.min(depth, t);
    return face === 'n-' ? { from: 0, to: d } : { from: t - d, to: t };
  };
  return [
    ...part.through.map((c) => ({ curve: flatCurve(c.bare, coarse), from: 0, to: t })),
    ...part.pockets.map((c) => ({ curve: flatCurve(c.bare, coarse), ...between(c.face, c.depth) })),
    ...part.holes
      .filter((h) => coarse === 1 || h.diameter >= LEAST_HOLE)
      .map((h) => ({
        curve: flatCurve(circleRing(h.centre, h.diameter / 2), coarse),
        ...between(h.face, h.depth),
      })),
  ];
}

/** A plate cut into slabs of constant section; its sides are the sections' borders and their differences. */
function solidOfPart(master: MasterPart, part: Part, clip: Clip, coarse: number): Solid {
  const t = master.thickness;
  const [u, v, n] = [axisVector(master.frame.u), axisVector(master.frame.v), axisVector(master.frame.n)];
  const world = (p: Point, w: number): Vec => along(along(along(master.frame.origin, p.x, u), p.y, v), w, n);
  const outline = flatCurve(part.outline.bare, coarse);
  const voids = voidsOf(part, t, coarse);
  const smooth = new Set([outline, ...voids.map((x) => x.curve)].flatMap((c) => [...c.smooth]));
  const levels = [...new Set([0, t, ...voids.flatMap((x) => [x.from, x.to])])].sort((a, b) => a - b);
  const clean = (polygons: readonly Polygon[]) => polygons.filter((p) => Math.abs(polygonArea(p)) > NOTHING);
  const sections = levels.slice(1).map((top, k) => {
    const middle = (levels[k]! + top) / 2;
    const air = voids.filter((x) => x.from < middle && middle < x.to).map((x) => x.curve.polygon);
    return clean(clip.difference([outline.polygon], air));
  });

  const faces: SolidFace[] = [];
  const arrises: Arris[] = [];
  const addFlat = (polygons: readonly Polygon[], w: number, up: boolean) => {
    if (polygons.length === 0) return;
    const loops = polygons.map((p) => p.map((x) => world(x, w)));
    faces.push({ plate: part.id, normal: up ? n : along([0, 0, 0], -1, n), loops });
    for (const loop of loops)
      loop.forEach((from, i) => {
        arrises.push({ from, to: loop[(i + 1) % loop.length]! });
      });
  };
  levels.forEach((w, k) => {
    const [below, above] = [sections[k - 1] ?? [], sections[k] ?? []];
    addFlat(k === 0 ? [] : clean(clip.difference(below, above)), w, true);
    addFlat(k === sections.length ? [] : clean(clip.difference(above, below)), w, false);
  });
  sections.forEach((section, k) => {
    const [w0, w1] = [levels[k]!, levels[k + 1]!];
    for (const loop of section) {
      const outward = loop.map((a, i): Point => {
        const b = loop[(i + 1) % loop.length]!;
        const l = Math.hypot(b.x - a.x, b.y - a.y);
        return { x: (b.y - a.y) / l, y: (a.x - b.x) / l };
      });
      const inWorld = outward.map((d) => along(along([0, 0, 0], d.x, u), d.y, v));
      loop.forEach((a, i) => {
        const b = loop[(i + 1) % loop.length]!;
        faces.push({
          plate: part.id,
          normal: inWorld[i]!,
          loops: [[world(a, w0), world(b, w0), world(b, w1), world(a, w1)]],
        });
        const before = (i + loop.length - 1) % loop.length;
        const [d, e] = [outward[before]!, outward[i]!];
        if (Math.abs(d.x * e.y - d.y * e.x) < STRAIGHT && d.x * e.x + d.y * e.y > 0) return;
        arrises.push({
          from: world(a, w0),
          to: world(a, w1),
          ...(smooth.has(cornerKey(a)) ? { smooth: [inWorld[before]!, inWorld[i]!] as const } : {}),
        });
      });
    }
  });
  return { id: part.id, faces, arrises };
}

/**
 * Every plate of a master as a solid where it stands in the finished piece; in the master's order. Curves within 0.08 mm, or `coarse` times
 * that for small pictures, which show no holes below 12 mm.
 */
export function solidsOfMaster(master: Master, clip: Clip, coarse = 1): Solid[] {
  const parts = partsOfMaster(master);
  return master.parts.map((p, i) => solidOfPart(p, parts[i]!, clip, coarse));
}

/** A solid moved in the world. */
export const movedSolid = (s: Solid, by: Vec): Solid => {
  const move = (x: Vec): Vec => along(x, 1, by);
  return {
    id: s.id,
    faces: s.faces.map((f) => ({ ...f, loops: f.loops.map((l) => l.map(move)) })),
    arrises: s.arrises.map((a) => ({ ...a, from: move(a.from), to: move(a.to) })),
  };
};

/** The least and the greatest extent of a solid along a direction, mm. */
export function extentAlong(s: Solid, direction: Vec): readonly [number, number] {
  let [least, most] = [Infinity, -Infinity];
  for (const f of s.faces)
    for (const l of f.loops)
      for (const x of l) {
        const d = dot(x, direction);
        least = Math.min(least, d);
        most = Math.max(most, d);
      }
  return [least, most];
}
