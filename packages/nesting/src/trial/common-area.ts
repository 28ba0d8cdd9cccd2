import {
  type Box,
  intersectRings,
  moveRing,
  type Ring,
  ringArea,
  ringBounds,
  subtractRings,
} from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';

const areaOf = (regions: ReturnType<typeof intersectRings>): number =>
  regions.reduce(
    (sum, r) =>
      sum + Math.abs(ringArea(r.outer)) - r.holes.reduce((h, hole) => h + Math.abs(ringArea(hole)), 0),
    0,
  );

const apart = (a: Box, b: Box): boolean =>
  a.maxX <= b.minX || b.maxX <= a.minX || a.maxY <= b.minY || b.maxY <= a.minY;

const turning = (r: Ring): Ring =>
  ringArea(r) < 0 ? { vertices: [...r.vertices].reverse().map((v) => ({ ...v, bulge: -v.bulge })) } : r;

/**
 * A second look at a layout by other means than the referee's: the greatest area that two items on one board have in
 * common, or that one has outside its board or inside a keep-out, in square units, by booleans of the outlines where
 * the referee measures distances. Slivers thinner than 0.000001 are nothing. 0 where all is well.
 */
export function commonArea(instance: NestingInstance, layout: Layout): number {
  const items = new Map(instance.items.map((i) => [i.id, i]));
  let worst = 0;
  for (const board of instance.boards) {
    const lying = layout.placements.flatMap((p) => {
      const item = p.board === board.id ? items.get(p.item) : undefined;
      if (!item) return [];
      const ring = turning(moveRing(p.motion, item.outline));
      return [{ ring, box: ringBounds(ring) }];
    });
    const room = turning(board.outline);
    lying.forEach((a, i) => {
      worst = Math.max(worst, areaOf(subtractRings([a.ring], [room])));
      for (const k of board.keepOuts)
        if (!apart(a.box, ringBounds(k)))
          worst = Math.max(worst, areaOf(intersectRings([a.ring], [turning(k)])));
      for (const b of lying.slice(i + 1))
        if (!apart(a.box, b.box)) worst = Math.max(worst, areaOf(intersectRings([a.ring], [b.ring])));
    });
  }
  return worst;
}
