import type { Region, Ring } from './ring.js';
import { clockwise, counterClockwise, ringArea } from './ring-area.js';
import { ringInside } from './ring-overlap.js';

/** The rings of a region, the outer one first; the area is on the left of each whatever way they ran before. */
export const ringsOfRegion = (region: Region): Ring[] => [
  counterClockwise(region.outer),
  ...region.holes.map(clockwise),
];

/** The area of a region, mm², its holes taken off; exact for arcs. */
export const regionArea = (region: Region): number =>
  ringsOfRegion(region).reduce((sum, r) => sum + ringArea(r), 0);

/**
 * The regions that rings bound, area on the left of each: a counter-clockwise ring is the outer ring of a region,
 * a clockwise one a hole of the least region that it lies in. Rings may touch but not cross. The largest outer
 * ring comes first, and so does the largest hole of each; a hole in no region is left out.
 */
export function regionsOfRings(rings: readonly Ring[]): Region[] {
  const sized = rings
    .map((r) => ({ ring: r, area: ringArea(r) }))
    .sort(
      (a, b) =>
        Math.abs(b.area) - Math.abs(a.area) ||
        a.ring.vertices[0]!.x - b.ring.vertices[0]!.x ||
        a.ring.vertices[0]!.y - b.ring.vertices[0]!.y,
    );
  const outers = sized.filter((s) => s.area > 0).map((s) => ({ ...s, holes: [] as Ring[] }));
  for (const hole of sized) {
    if (hole.area >= 0) continue;
    let home: (typeof outers)[number] | undefined;
    for (const outer of outers)
      if (outer.area >= -hole.area && ringInside(hole.ring, outer.ring)) home = outer;
    home?.holes.push(hole.ring);
  }
  return outers.map(({ ring, holes }) => ({ outer: ring, holes }));
}
