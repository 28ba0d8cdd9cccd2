import type { Vertex } from '@haunch/geometry';
import { lieOf, placeOf } from './entity-place.js';
import type { EntityReader, RawEntity } from './raw-entity.js';
import type { Tags } from './tags.js';

const CLOSED = 1;
const CURVE_FIT_FRAME = 16;
const POLYLINE_3D = 8;
const MESH = 16 | 64;

const mirroredVertex = (v: Vertex): Vertex => ({ x: -v.x + 0, y: v.y, bulge: -v.bulge + 0 });

/** Closes a polyline whose last vertex repeats the first, and drops vertices that repeat their neighbour. */
function tidy(vertices: readonly Vertex[], closedFlag: boolean): { vertices: Vertex[]; closed: boolean } {
  const kept: Vertex[] = [];
  for (const v of vertices) {
    const last = kept.at(-1);
    if (last !== undefined && last.x === v.x && last.y === v.y) kept[kept.length - 1] = v;
    else kept.push(v);
  }
  const first = kept[0];
  const last = kept.at(-1);
  let closed = closedFlag;
  if (kept.length > 2 && first!.x === last!.x && first!.y === last!.y) {
    kept.pop();
    closed = true;
  }
  return { vertices: kept, closed };
}

function polylineOf(t: Tags, z: number, vertices: readonly Vertex[], closedFlag: boolean): RawEntity {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const mirrored = lie === 'mirrored';
  const run = tidy(mirrored ? vertices.map(mirroredVertex) : vertices, closedFlag);
  if (run.vertices.length < 2) return 'no size';
  return { kind: 'polyline', ...placeOf(t, z, mirrored), ...run };
}

/** LWPOLYLINE: groups 10, 20, 42 repeat for each vertex; 38 elevation, 39 depth, flag 1 closed. */
export const readLwpolyline: EntityReader = (t) => {
  const vertices: { x: number; y: number | null; bulge: number }[] = [];
  for (let i = 0; i < t.codes.length; i++) {
    const code = t.codes[i]!;
    if (code === 10) vertices.push({ x: t.numberAt(i), y: null, bulge: 0 });
    const v = vertices.at(-1);
    if (v === undefined) continue;
    if (code === 20) v.y = t.numberAt(i);
    if (code === 42) v.bulge = t.numberAt(i);
  }
  if (vertices.some((v) => v.y === null)) t.missing(20);
  return polylineOf(
    t,
    t.numberOr(38, 0),
    vertices.map((v) => ({ x: v.x, y: v.y ?? 0, bulge: v.bulge })),
    (t.integerOr(70, 0) & CLOSED) !== 0,
  );
};

/** POLYLINE with its VERTEX records up to SEQEND. Meshes are not read; a flat 3D polyline is. */
export const readPolyline: EntityReader = (t, following) => {
  const flags = t.integerOr(70, 0);
  const vertices: Vertex[] = [];
  const heights: number[] = [];
  while (following.peek() === 'VERTEX') {
    const v = following.take();
    if ((v.integerOr(70, 0) & CURVE_FIT_FRAME) !== 0 || (flags & MESH) !== 0) continue;
    vertices.push({ x: v.number(10), y: v.number(20), bulge: v.numberOr(42, 0) });
    heights.push(v.numberOr(30, 0));
  }
  if (following.peek() === 'SEQEND') following.take();
  if ((flags & MESH) !== 0) return 'unknown';
  if ((flags & POLYLINE_3D) !== 0) {
    const z = heights[0] ?? 0;
    if (heights.some((h) => Math.abs(h - z) > 0.01)) return 'not flat';
    return polylineOf(t, z, vertices, (flags & CLOSED) !== 0);
  }
  return polylineOf(t, t.numberOr(30, 0), vertices, (flags & CLOSED) !== 0);
};
