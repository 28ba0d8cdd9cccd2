import type { Ring } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import type { Entity } from '../drawing.js';
import type { Loop } from './loop.js';

/** A contour without reliefs from a counter-clockwise ring, its edges tagged `<id>/e0`, `<id>/e1` … */
export function contourOfRing(id: string, ring: Ring): Contour {
  const tagged: Ring = {
    vertices: ring.vertices.map((v, k) => ({ x: v.x, y: v.y, bulge: v.bulge, tag: `${id}/e${k}` })),
  };
  return { id, ring: tagged, bare: tagged, reliefs: [] };
}

/** Where in the file an entity stands, as a `from` word: `line 120, handle 2A`. */
export const fromEntity = (e: Entity): string =>
  e.handle === null ? `line ${e.line}` : `line ${e.line}, handle ${e.handle}`;

/** The `from` words of a loop. */
export const fromLoop = (l: Loop): string[] => l.entities.map(fromEntity);
