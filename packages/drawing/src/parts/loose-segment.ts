import { distance, type Point, pointAlong, type Segment, segmentOfBulge } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import type { RepairBook, Stroke } from './repair.js';

/** One straight or circular stretch that is not part of a closed entity. mm. */
export interface LooseSegment {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
  readonly entity: Entity;
}

/** The loose stretches of an entity: lines, arcs and open polylines have some, others none. */
export function looseSegments(e: Entity): LooseSegment[] {
  if (e.kind === 'line') return [{ from: e.from, to: e.to, bulge: 0, entity: e }];
  if (e.kind === 'arc') return [{ from: e.from, to: e.to, bulge: e.bulge, entity: e }];
  return e.kind === 'polyline' && !e.closed ? polylineSegments(e) : [];
}

/** The stretches of a polyline, of a closed one with the last that closes it; those without any length left out. */
export function polylineSegments(e: Entity & { readonly kind: 'polyline' }): LooseSegment[] {
  const out: LooseSegment[] = [];
  const n = e.vertices.length;
  for (let i = 0; i < (e.closed ? n : n - 1); i++) {
    const v = e.vertices[i]!;
    const w = e.vertices[(i + 1) % n]!;
    if (v.x !== w.x || v.y !== w.y)
      out.push({ from: { x: v.x, y: v.y }, to: { x: w.x, y: w.y }, bulge: v.bulge, entity: e });
  }
  return out;
}

/** A loose stretch as a segment of the plane. */
export const segmentOf = (s: LooseSegment): Segment => segmentOfBulge(s.from, s.to, s.bulge);

/** A loose stretch as it is drawn. */
export const strokeOf = (s: LooseSegment): Stroke => ({
  vertices: [
    { x: s.from.x, y: s.from.y, bulge: s.bulge },
    { x: s.to.x, y: s.to.y, bulge: 0 },
  ],
  closed: false,
});

const middleOf = (s: LooseSegment): Point =>
  s.bulge === 0 ? { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 } : pointAlong(segmentOf(s), 0.5);

/**
 * Numbers of the segments without those that run between the same two nodes as an earlier one and nowhere further
 * than `near` mm from it.
 */
export function withoutDoubles(
  segments: readonly LooseSegment[],
  ends: readonly (readonly [number, number])[],
  near: number,
  book: RepairBook,
): number[] {
  const seen = new Map<number, number[]>();
  const kept: number[] = [];
  segments.forEach((s, i) => {
    const [a, b] = ends[i]!;
    const key = Math.min(a, b) * 4_194_304 + Math.max(a, b);
    const others = seen.get(key);
    if (others === undefined) {
      seen.set(key, [i]);
      kept.push(i);
      return;
    }
    const middle = middleOf(s);
    let off = Infinity;
    for (const j of others) off = Math.min(off, distance(middleOf(segments[j]!), middle));
    const draft = () => ({ before: [strokeOf(s)], after: [] });
    if (off <= near && a !== b && book.mend('double', s.from, [s.entity], off, draft)) return;
    others.push(i);
    kept.push(i);
  });
  return kept;
}
