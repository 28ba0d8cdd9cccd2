import { type BoxIndex, indexBoxes } from './box-index.js';
import { type Ring, type Segment, segmentOfBulge } from './ring.js';
import { type Box, segmentBounds } from './ring-bounds.js';

/** A ring made ready for questions: its segments with their boxes, found once. */
export interface RingCurve {
  readonly segments: readonly Segment[];
  /** For each segment the number of the vertex that it starts at. */
  readonly vertexOf: readonly number[];
  readonly boxes: readonly Box[];
  readonly bounds: Box;
  readonly index: BoxIndex;
}

/** Rings are never changed, so what was found for one holds as long as it lives. */
const known = new WeakMap<Ring, RingCurve>();

/** The segments of a ring made ready for questions; remembered with the ring. */
export function curveOfRing(r: Ring): RingCurve {
  const before = known.get(r);
  if (before) return before;
  const segments: Segment[] = [];
  const vertexOf: number[] = [];
  const n = r.vertices.length;
  for (let i = 0; i < n; i++) {
    const v = r.vertices[i]!;
    const w = r.vertices[(i + 1) % n]!;
    if (v.x === w.x && v.y === w.y) continue;
    segments.push(segmentOfBulge(v, w, v.bulge, v.tag));
    vertexOf.push(i);
  }
  const boxes = segments.map(segmentBounds);
  const bounds = boxes.reduce<Box>(
    (all, b) => ({
      minX: Math.min(all.minX, b.minX),
      minY: Math.min(all.minY, b.minY),
      maxX: Math.max(all.maxX, b.maxX),
      maxY: Math.max(all.maxY, b.maxY),
    }),
    { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity },
  );
  const curve = { segments, vertexOf, boxes, bounds, index: indexBoxes(boxes) };
  known.set(r, curve);
  return curve;
}
