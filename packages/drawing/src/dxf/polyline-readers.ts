import type { Vertex } from '@haunch/geometry';
import type { PolylineEntity } from '../drawing.js';
import { coloured, heightOf, lieOf, upward } from './entity-place.js';
import type { EntityReader, RawEntity } from './raw-entity.js';
import type { Tags } from './tags.js';

const CLOSED = 1;
const CURVE_FIT_FRAME = 16;
const POLYLINE_3D = 8;
const MESH = 16 | 64;

const mirroredVertex = (v: Vertex): Vertex => ({ x: -v.x + 0, y: v.y, bulge: -v.bulge + 0 });

const samePlace = (a: Vertex, b: Vertex): boolean => a.x === b.x && a.y === b.y;
const endsWhereItBegan = (vertices: readonly Vertex[]): boolean =>
  vertices.length > 2 && samePlace(vertices[0]!, vertices[vertices.length - 1]!);

/** Closes a polyline whose last vertex repeats the first, and drops vertices that repeat their neighbour. */
function tidy(vertices: readonly Vertex[], closedFlag: boolean): Pick<PolylineEntity, 'vertices' | 'closed'> {
  if (!vertices.some((v, i) => i > 0 && samePlace(v, vertices[i - 1]!)) && !endsWhereItBegan(vertices))
    return { vertices, closed: closedFlag };
  const kept: Vertex[] = [];
  for (const v of vertices) {
    const last = kept.at(-1);
    if (last !== undefined && samePlace(last, v)) kept[kept.length - 1] = v;
    else kept.push(v);
  }
  if (!endsWhereItBegan(kept)) return { vertices: kept, closed: closedFlag };
  kept.pop();
  return { vertices: kept, closed: true };
}

function polylineOf(t: Tags, z: number, vertices: readonly Vertex[], closedFlag: boolean): RawEntity {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const mirrored = lie === 'mirrored';
  const run = tidy(mirrored ? vertices.map(mirroredVertex) : vertices, closedFlag);
  if (run.vertices.length < 2) return 'no size';
  const { layer, handle, line } = t;
  return coloured<PolylineEntity>(t, {
    kind: 'polyline',
    layer,
    handle,
    line,
    elevation: upward(z, mirrored),
    depth: upward(t.numberOr(39, 0), mirrored),
    vertices: run.vertices,
    closed: run.closed,
  });
}

/** LWPOLYLINE: groups 10, 20, 42 repeat for each vertex; 38 elevation, 39 depth, flag 1 closed. */
export const readLwpolyline: EntityReader = (t) => {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  let incomplete = false;
  let open = false;
  for (let i = 0; i < t.count; i++) {
    const code = t.codeAt(i);
    if (code === 10) {
      incomplete ||= open;
      vertices.push({ x: t.numberAt(i), y: 0, bulge: 0 });
      open = true;
    } else if (vertices.length === 0) continue;
    else if (code === 20) {
      vertices[vertices.length - 1]!.y = t.numberAt(i);
      open = false;
    } else if (code === 42) vertices[vertices.length - 1]!.bulge = t.numberAt(i);
  }
  if (incomplete || open) t.missing(20);
  return polylineOf(t, t.numberOr(38, 0), vertices, (t.integerOr(70, 0) & CLOSED) !== 0);
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
  return polylineOf(t, heightOf(t), vertices, (flags & CLOSED) !== 0);
};
