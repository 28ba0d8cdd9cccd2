import type { Box, Clip, Point, Polygon } from '@haunch/geometry';
import { boxesMeet, boxOf, insidePolygon, type Patch, polygonArea } from './sweeper.js';

/** A connected piece of material: an outer polygon and the holes in it. mm */
export interface Piece {
  readonly outer: Polygon;
  readonly holes: readonly Polygon[];
  readonly box: Box;
  readonly area: number;
}

/** The polygons of patches that may touch a box. */
export const patchesIn = (patches: readonly Patch[], box: Box): Polygon[] =>
  patches.flatMap((p) => (boxesMeet(p.box, box) ? [...p.polygons] : []));

/** Polygons sorted into pieces, largest first: outers counter-clockwise, each hole with the outer round it. */
export function piecesOf(polygons: readonly Polygon[]): Piece[] {
  const outers = polygons
    .map((outer) => ({ outer, holes: [] as Polygon[], box: boxOf([outer]), area: polygonArea(outer) }))
    .filter((o) => o.area > 0)
    .sort((a, b) => a.area - b.area || a.box.minX - b.box.minX || a.box.minY - b.box.minY);
  for (const hole of polygons) {
    const area = polygonArea(hole);
    if (area >= 0 || hole.length === 0) continue;
    const box = boxOf([hole]);
    // The smallest outer that is larger and holds the hole; a corner may touch it, so several are asked.
    const home = outers.find(
      (o) =>
        o.area >= -area - 1e-9 &&
        boxesMeet(o.box, box) &&
        hole.filter((_, i) => i % Math.ceil(hole.length / 5) === 0).filter((p) => insidePolygon(o.outer, p))
          .length *
          2 >
          Math.min(5, Math.ceil(hole.length / Math.ceil(hole.length / 5))),
    );
    if (home) {
      home.holes.push(hole);
      home.area += area;
    }
  }
  return outers.reverse();
}

/** Whether a point lies in a piece. */
export const insidePiece = (piece: Piece, p: Point): boolean =>
  insidePolygon(piece.outer, p) && !piece.holes.some((h) => insidePolygon(h, p));

/** What stands of a window after patches have been removed, in pieces, largest first. */
export function standing(clip: Clip, window: readonly Polygon[], patches: readonly Patch[]): Piece[] {
  const gone = patchesIn(patches, boxOf(window));
  return piecesOf(gone.length === 0 ? clip.union(window) : clip.difference(window, gone));
}
