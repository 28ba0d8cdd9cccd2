import type { Polygon } from '@haunch/geometry';

/** The signed area of a polygon: positive counter-clockwise where y points up. */
export const polygonArea = (p: Polygon): number =>
  p.reduce((s, a, i) => {
    const b = p[(i + 1) % p.length]!;
    return s + (a.x * b.y - b.x * a.y) / 2;
  }, 0);

/** The signed area of an outer polygon and the holes in it. */
export const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce((s, p) => s + polygonArea(p), 0);
