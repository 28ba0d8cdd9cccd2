import { type Point, pointInRing, pointSegmentDistance, ringBounds, ringSegments } from '@haunch/geometry';
import type { Part } from '@haunch/model';

/** So many places a side are tried. */
const GRID = 13;

/**
 * A place in a part's material that is far from every edge, and how far, mm: where its name can stand. The
 * best of a 13 × 13 grid over the part's box; a corner of the outline where none of them is in the material.
 */
export function labelPlace(part: Part): { readonly at: Point; readonly room: number } {
  const b = ringBounds(part.outline.ring);
  const air = [...part.through, ...part.pockets].map((c) => c.ring);
  const segments = [part.outline.ring, ...air].flatMap(ringSegments);
  let best: { readonly at: Point; readonly room: number } | undefined;
  // Row by row from below, so that of two places alike the lower and then the left one stays.
  for (let j = 1; j <= GRID; j++)
    for (let i = 1; i <= GRID; i++) {
      const at = {
        x: b.minX + ((b.maxX - b.minX) * i) / (GRID + 1),
        y: b.minY + ((b.maxY - b.minY) * j) / (GRID + 1),
      };
      const least = best?.room ?? 0;
      let room = Infinity;
      for (const h of part.holes)
        room = Math.min(room, Math.hypot(h.centre.x - at.x, h.centre.y - at.y) - h.diameter / 2);
      for (let k = 0; k < segments.length && room > least; k++)
        room = Math.min(room, pointSegmentDistance(segments[k]!, at));
      if (
        room > least &&
        pointInRing(part.outline.ring, at) === 'inside' &&
        air.every((r) => pointInRing(r, at) === 'outside')
      )
        best = { at, room };
    }
  const v = part.outline.ring.vertices[0]!;
  return best ?? { at: { x: v.x, y: v.y }, room: 0 };
}
