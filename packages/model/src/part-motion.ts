import { type Motion, movePoint, moveRing, STAY } from '@haunch/geometry';
import type { Contour, Part } from './part.js';

function moveContour<C extends Contour>(m: Motion, c: C): C {
  return {
    ...c,
    ring: moveRing(m, c.ring),
    bare: moveRing(m, c.bare),
    reliefs: c.reliefs.map((r) => ({
      ...r,
      corner: movePoint(m, r.corner),
      centre: movePoint(m, r.centre),
      // A mirrored ring is walked the other way, so the edges change places.
      edges: m.mirror ? ([r.edges[1], r.edges[0]] as const) : r.edges,
    })),
  };
}

/** A part with all its curves moved. Tags, ids and depths stay. */
export const movePart = (m: Motion, p: Part): Part => ({
  ...p,
  outline: moveContour(m, p.outline),
  through: p.through.map((c) => moveContour(m, c)),
  pockets: p.pockets.map((c) => moveContour(m, c)),
  holes: p.holes.map((h) => ({ ...h, centre: movePoint(m, h.centre) })),
});

/**
 * A part as it lies on the table, seen from its cut face: mirrored in u where that face is n−. In this frame
 * grain `u` is x and `v` is y, and everything on the cut face is machined from above.
 */
export const partOnTable = (p: Part): Part =>
  p.cutFace === 'n-' ? movePart({ ...STAY, mirror: true }, p) : p;
