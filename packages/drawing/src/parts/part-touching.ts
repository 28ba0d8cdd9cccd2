import { distance, type Point } from '@haunch/geometry';
import { JOIN } from './join-ends.js';
import { edgeEntity, type Loop, tracedLoop } from './loop.js';
import type { LooseSegment } from './loose-segment.js';
import { cellTable } from './point-table.js';
import type { RepairBook } from './repair.js';
import { partedAtNodes } from './split-touches.js';
import type { OpenRun } from './trace-loops.js';

/** What a contour that touches itself was parted into. */
export interface Parted {
  readonly loops: readonly Loop[];
  /** Lines that were drawn there and back. */
  readonly spurs: readonly OpenRun[];
}

/**
 * Parts a contour where it touches itself or runs back over itself, at `at` among others: a neck of no width is
 * cut off, a hole that touches its outline becomes a hole, and a spike falls off. Null where that gives nothing, or
 * where it is to be kept as it was drawn.
 */
export function partTouching(loop: Loop, at: Point, book: RepairBook): Parted | null {
  const { vertices } = loop.ring;
  const segments = vertices.flatMap((v, i): LooseSegment[] => {
    const w = vertices[(i + 1) % vertices.length]!;
    if (v.x === w.x && v.y === w.y) return [];
    return [
      { from: { x: v.x, y: v.y }, to: { x: w.x, y: w.y }, bulge: v.bulge, entity: edgeEntity(loop, v.tag) },
    ];
  });
  const { traced, pieces } = partedAtNodes(gathered(segments));
  if (traced.loops.length === 0 || (traced.loops.length === 1 && traced.open.length === 0)) return null;
  const loops = traced.loops.map((t) =>
    tracedLoop(
      t.ring,
      t.segments.map((i) => pieces[i]!.entity),
    ),
  );
  const mended = book.mend('touch', at, loop.entities, JOIN, () => ({
    before: [{ vertices, closed: true }],
    after: loops.map((l) => ({ vertices: l.ring.vertices, closed: true })),
  }));
  return mended ? { loops, spurs: traced.open } : null;
}

/** Segments with ends within 0.01 mm of each other in one place; those that are left without length fall away. */
function gathered(segments: readonly LooseSegment[]): LooseSegment[] {
  const places: Point[] = [];
  const cells = cellTable(2 * segments.length);
  const cell = (v: number): number => Math.floor(v / JOIN);
  const placeOf = (p: Point): Point => {
    let near: Point | null = null;
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        cells.visit(cell(p.x) + dx, cell(p.y) + dy, (k) => {
          if (near === null && distance(places[k]!, p) <= JOIN) near = places[k]!;
        });
    if (near !== null) return near;
    cells.add(cell(p.x), cell(p.y), places.length);
    places.push(p);
    return p;
  };
  return segments.flatMap((s) => {
    const [from, to] = [placeOf(s.from), placeOf(s.to)];
    return from === to ? [] : [{ ...s, from, to }];
  });
}
