import { snap } from '@haunch/geometry';
import type { Hole, Part, Pocket } from '@haunch/model';
import { contourOfRing, fromLoop } from './contour-of-loop.js';
import type { Plate } from './find-plates.js';
import type { Recess } from './recesses.js';

/** The part that a plate with its recesses is. `thickness` is for plates that state none, mm. */
export function partOfPlate(
  id: string,
  name: string | null,
  plate: Plate,
  recesses: readonly Recess[],
  thickness: number | null,
): Part {
  const through = plate.cuts.filter((l) => l.circle === null);
  const round = plate.cuts.filter((l) => l.circle !== null);
  const blind = recesses.filter((r) => r.loop.circle !== null);
  const housed = recesses.filter((r) => r.loop.circle === null);
  const holes: Hole[] = [
    ...round.map((l) => ({ circle: l.circle!, face: 'n+' as const, depth: 'through' as const })),
    ...blind.map((r) => ({ circle: r.loop.circle!, face: r.face, depth: r.depth })),
  ].map((h, k) => ({
    id: `${id}.h${k + 1}`,
    centre: h.circle.centre,
    diameter: snap(2 * h.circle.radius),
    face: h.face,
    depth: h.depth,
  }));
  const pockets: Pocket[] = housed.map((r, k) => ({
    ...contourOfRing(`${id}.p${k + 1}`, r.loop.ring),
    face: r.face,
    depth: r.depth,
  }));
  const stated = plate.outline.elevation >= 0 ? plate.outline.depth : 0;
  return {
    kind: 'part',
    id,
    name: name ?? id,
    thickness: stated > 0 ? stated : thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contourOfRing(id, plate.outline.ring),
    through: through.map((l, k) => contourOfRing(`${id}.c${k + 1}`, l.ring)),
    pockets,
    holes,
    from: [plate.outline, ...plate.cuts, ...recesses.map((r) => r.loop)].flatMap(fromLoop),
  };
}
