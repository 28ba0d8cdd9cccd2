import { type Point, pointInRing, pointSegmentDistance, ringBounds, segmentBounds } from '@haunch/geometry';
import type { WantedContour } from './wanted-contour.js';

/** How many places along the longer side are tried. */
const TRIES = 24;

/** A point of wanted material far from all curves of an item: by it the item is known among the pieces cut. */
export function insidePoint(contours: readonly WantedContour[]): Point {
  const outline = contours[0]!;
  const b = ringBounds(outline.ring);
  const step = Math.max(b.maxX - b.minX, b.maxY - b.minY) / TRIES;
  const curves = contours.flatMap((c) => c.segments.map((s) => ({ s, box: segmentBounds(s) })));
  /** The distance to the nearest curve, or any one that is not above `enough` where it is not above it either. */
  const roomAt = (p: Point, enough: number): number => {
    let least = Infinity;
    for (const { s, box } of curves) {
      const dx = Math.max(0, box.minX - p.x, p.x - box.maxX);
      const dy = Math.max(0, box.minY - p.y, p.y - box.maxY);
      if (dx >= least || dy >= least) continue;
      least = Math.min(least, pointSegmentDistance(s, p));
      if (least <= enough) return least;
    }
    return least;
  };
  let best: Point = outline.ring.vertices[0]!;
  let room = -1;
  for (let x = b.minX + step / 2; x < b.maxX; x += step)
    for (let y = b.minY + step / 2; y < b.maxY; y += step) {
      const p = { x, y };
      const gap = roomAt(p, room);
      if (gap <= room || pointInRing(outline.ring, p) !== 'inside') continue;
      if (contours.some((c) => c !== outline && pointInRing(c.ring, p) === 'inside')) continue;
      [best, room] = [p, gap];
    }
  return best;
}
