import {
  type Box,
  clockwise,
  counterClockwise,
  intersectRings,
  moveRing,
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

/**
 * A second look at a layout by other means than the referee's: the greatest area that two items on one board have in
 * common, or that one has outside its board or inside a keep-out or a defect that it shows, in square units, by booleans of the outlines where
 * the referee measures distances. Slivers thinner than 0.000001 are nothing. 0 where all is well.
 */
export function commonArea(instance: NestingInstance, layout: Layout): number {
  const items = new Map(instance.items.map((i) => [i.id, i]));
  let worst = 0;
  for (const board of instance.boards) {
    const lying = layout.placements.flatMap((p) => {
      const item = p.board === board.id ? items.get(p.item) : undefined;
      if (!item) return [];
      const ring = counterClockwise(moveRing(p.motion, item.outline));
      // A hole runs the other way round, so that what lies in it is not in common.
      const holes = (item.holes ?? []).map((h) => clockwise(moveRing(p.motion, h)));
      return [{ rings: [ring, ...holes], box: ringBounds(ring), shows: item.shows ?? [] }];
    });
    const room = counterClockwise(board.outline);
    lying.forEach((a, i) => {
      worst = Math.max(worst, areaOf(subtractRings(a.rings, [room])));
      for (const k of board.keepOuts)
        if (!apart(a.box, ringBounds(k)))
          worst = Math.max(worst, areaOf(intersectRings(a.rings, [counterClockwise(k)])));
      for (const { outline, face } of board.defects ?? [])
        if (a.shows.includes(face))
          worst = Math.max(worst, areaOf(intersectRings(a.rings, [counterClockwise(outline)])));
      for (const b of lying.slice(i + 1))
        if (!apart(a.box, b.box)) worst = Math.max(worst, areaOf(intersectRings(a.rings, b.rings)));
    });
  }
  return worst;
}
