import type { Box, Clip, Point, Polygon } from '@haunch/geometry';
import type { Solid } from './plate-solid.js';
import { areaOf } from './polygon-area.js';
import { dot, type Vec } from './vec.js';
import { type Depth, depthAt, depthOf, seen, type View } from './view.js';

/** A side that is turned to the eye, in the picture: counter-clockwise, its holes clockwise. mm. */
export interface SeenFace {
  readonly plate: string;
  readonly normal: Vec;
  readonly loops: readonly Polygon[];
  readonly box: Box;
  readonly depth: Depth;
}

/** What of a side can be seen. */
export interface VisibleFace {
  readonly face: SeenFace;
  readonly polygons: readonly Polygon[];
}

/** A side must lean to the eye by more than this to be seen, as a cosine: a metre of less is a tenth of a millimetre wide. */
const EDGE_ON = 1e-4;
/** A side is in front of another where it is nearer by more than this, mm: less is what rounding makes. */
export const NEARER = 1e-4;

export const boxOf = (points: Iterable<Point>): Box => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
};

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;

/** The loops of one flat side, turned round together where their outer ones run clockwise. */
export const facing = (loops: readonly Polygon[]): readonly Polygon[] =>
  areaOf(loops) < 0 ? loops.map((l) => [...l].reverse()) : loops;

/** Whether loops wind round a place; what lies on a border may count either way. */
export function windsRound(loops: readonly Polygon[], p: Point): boolean {
  let winding = 0;
  for (const loop of loops)
    for (let i = 0; i < loop.length; i++) {
      const a = loop[i]!;
      const b = loop[(i + 1) % loop.length]!;
      if (a.y > p.y === b.y > p.y) continue;
      if (p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) winding += a.y > p.y ? -1 : 1;
    }
  return winding !== 0;
}

/** The sides of the solids that are turned to the eye, in their order. */
export function facesTowards(view: View, solids: readonly Solid[]): SeenFace[] {
  return solids.flatMap((s) =>
    s.faces.flatMap((f) => {
      if (dot(f.normal, view.eye) <= EDGE_ON) return [];
      const loops = facing(f.loops.map((l) => l.map((x) => seen(view, x))));
      return [
        {
          plate: f.plate,
          normal: f.normal,
          loops,
          box: boxOf(loops.flat()),
          depth: depthOf(view, f.loops[0]![0]!, f.normal),
        },
      ];
    }),
  );
}

/**
 * The part of a loop where `lead` is positive (Sutherland and Hodgman 1974). Where the loop is concave the result
 * may run along the border and back, which encloses nothing; every place keeps its winding number.
 */
function whereLeading(loop: Polygon, lead: (p: Point) => number): Point[] {
  const out: Point[] = [];
  loop.forEach((p, i) => {
    const q = loop[(i + 1) % loop.length]!;
    const [a, b] = [lead(p), lead(q)];
    if (a >= 0) out.push(p);
    if ((a < 0 && b > 0) || (a > 0 && b < 0)) {
      const t = a / (a - b);
      out.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) });
    }
  });
  return out;
}

/** Whether `front` is nearer than `behind` anywhere in the box that both share: a plane's lead is greatest in a corner. */
function leadsInBox(front: SeenFace, behind: SeenFace): boolean {
  const [x, y] = [front.depth.x - behind.depth.x, front.depth.y - behind.depth.y];
  const [a, b] = [front.box, behind.box];
  const cornerX = x > 0 ? Math.min(a.maxX, b.maxX) : Math.max(a.minX, b.minX);
  const cornerY = y > 0 ? Math.min(a.maxY, b.maxY) : Math.max(a.minY, b.minY);
  return x * cornerX + y * cornerY + front.depth.constant - behind.depth.constant > NEARER;
}

/** What `front` covers of `behind`, or more, as long as it is nearer there. */
function cover(front: SeenFace, behind: SeenFace): Polygon[] {
  if (!boxesMeet(front.box, behind.box) || !leadsInBox(front, behind)) return [];
  const lead = (p: Point): number => depthAt(front.depth, p) - depthAt(behind.depth, p) - NEARER;
  let [some, all] = [false, true];
  for (const l of front.loops)
    for (const p of l) {
      if (lead(p) > 0) some = true;
      else all = false;
    }
  if (!some) return [];
  if (all) return [...front.loops];
  return front.loops.map((l) => whereLeading(l, lead)).filter((l) => l.length > 2);
}

/** Whether a line from p to q comes into a box (separating axes: the box's two and the line's own). */
function entersBox(b: Box, p: Point, q: Point): boolean {
  if (Math.max(p.x, q.x) < b.minX || Math.min(p.x, q.x) > b.maxX) return false;
  if (Math.max(p.y, q.y) < b.minY || Math.min(p.y, q.y) > b.maxY) return false;
  const [dx, dy] = [q.x - p.x, q.y - p.y];
  const side = (x: number, y: number): number => dx * (y - p.y) - dy * (x - p.x);
  const corners = [side(b.minX, b.minY), side(b.maxX, b.minY), side(b.minX, b.maxY), side(b.maxX, b.maxY)];
  return !(corners.every((c) => c > 0) || corners.every((c) => c < 0));
}

/** How loops lie over a box: over all of it, over nothing of it, or with a border in it. */
function overBox(loops: readonly Polygon[], b: Box): 'all' | 'nothing' | 'some' {
  for (const loop of loops)
    for (let i = 0; i < loop.length; i++)
      if (entersBox(b, loop[i]!, loop[(i + 1) % loop.length]!)) return 'some';
  return windsRound(loops, { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 }) ? 'all' : 'nothing';
}

/**
 * What can be seen of every side: its own area less, for every other side, the area in which that one is nearer.
 * Exact for plane sides in any position, crossing ones included; no order of painting is needed.
 */
export function visibleFaces(faces: readonly SeenFace[], clip: Clip): VisibleFace[] {
  return faces.map((face) => {
    const covers: Polygon[] = [];
    for (const f of faces) {
      if (f === face) continue;
      const own = cover(f, face);
      if (own.length === 0) continue;
      // Most sides are small and lie wholly behind a big one, or beside it: no polygon need be clipped to see that.
      const over = overBox(own, face.box);
      if (over === 'all') return { face, polygons: [] };
      if (over === 'some') covers.push(...own);
    }
    return { face, polygons: covers.length === 0 ? face.loops : clip.difference(face.loops, covers) };
  });
}
