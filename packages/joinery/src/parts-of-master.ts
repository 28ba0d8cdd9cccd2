import { counterClockwise, type Ring } from '@haunch/geometry';
import type { Contour, Master, MasterLoop, MasterPart, Part } from '@haunch/model';
import { edgesOf, ringOfEdges } from './loop.js';

/** The id of the contour that is a part's outline. */
export const outlineId = (part: string): string => `${part}.outline`;

const contour = (id: string, loop: MasterLoop): Contour => {
  const ring: Ring = counterClockwise(ringOfEdges(edgesOf(loop), id));
  return { id, ring, bare: ring, reliefs: [] };
};

/** One part of a master, flat. */
export const partOfMaster = (p: MasterPart): Part => ({
  kind: 'part',
  id: p.id,
  name: p.name,
  thickness: p.thickness,
  grain: p.grain === 'none' ? null : p.grain,
  cutFace: p.cutFace,
  showFace: p.showFace,
  stock: p.stock,
  outline: contour(outlineId(p.id), p.outline),
  through: p.through.map((c) => contour(c.id, c.loop)),
  pockets: p.pockets.map((c) => ({ ...contour(c.id, c.loop), face: c.face, depth: c.depth })),
  holes: p.holes.map(({ id, centre, diameter, face, depth }) => ({
    id,
    centre: { x: centre[0], y: centre[1] },
    diameter,
    face,
    depth,
  })),
  from: [p.id],
});

/**
 * The parts of a master as flat parts in (u, v), mm, seen from their n+ faces, sharp-cornered and without
 * clearance. Guarantees: every contour is counter-clockwise; an outline's id is `<part>.outline`, other
 * contours keep theirs; the tag of each segment is `<contour>/e<k>` with k the place of its segment in the
 * master, which a refit does not change.
 * @throws RangeError when a loop has coordinates that are not finite (`readMaster` refuses those).
 */
export const partsOfMaster = (master: Master): Part[] => master.parts.map(partOfMaster);
