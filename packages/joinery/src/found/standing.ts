import type { MasterPart, Part } from '@haunch/model';
import type { Frame, Vec } from '../frame.js';
import { loopOfRing } from './loop-of-ring.js';
import { boxRound, inWorld, namedAxis, usualAxes } from './world.js';

/** How far apart pieces that nothing holds together stand, mm. */
const APART = 200;

/** A straightened part as a master's, flat in the plane Z = 0. */
export const masterPart = (p: Part): MasterPart => ({
  id: p.id,
  name: p.name,
  thickness: p.thickness!,
  stock: p.stock ?? `sheet-${p.thickness}`,
  frame: { origin: [0, 0, 0], u: '+X', v: '+Y', n: '+Z' },
  hold: 'n-',
  grain: p.grain ?? 'none',
  showFace: p.showFace ?? 'n+',
  cutFace: p.cutFace,
  outline: loopOfRing(p.outline.bare),
  through: p.through.map((c) => ({ id: c.id, loop: loopOfRing(c.bare) })),
  pockets: p.pockets.map((c) => ({ id: c.id, face: c.face, depth: c.depth, loop: loopOfRing(c.bare) })),
  holes: p.holes.map(({ id, centre, diameter, face, depth }) => ({
    id,
    centre: [centre.x, centre.y],
    diameter,
    face,
    depth,
  })),
});

/** The part in its place. */
export const atFrame = (p: MasterPart, f: Frame): MasterPart => ({
  ...p,
  frame: { origin: [...f.origin], u: namedAxis(f.u), v: namedAxis(f.v), n: namedAxis(f.n) },
});

/** Pieces set up beside each other along X, each standing as `usualAxes` has it; `looks` is asked of each. */
export function setUp(
  pieces: readonly (readonly MasterPart[])[],
  looks: (
    piece: readonly MasterPart[],
    n: number,
  ) => { readonly up?: Vec; readonly front?: Vec } = () => ({}),
): MasterPart[][] {
  let x = 0;
  return pieces.map((piece, n) => {
    const stood = inWorld(piece, usualAxes(piece, looks(piece, n)), [x, 0, 0]);
    x = boxRound(stood).high[0] + APART;
    return stood;
  });
}

/** Parts that belong nowhere, laid flat beside what stands. */
export function laidBeside(standing: readonly MasterPart[], loose: readonly MasterPart[]): MasterPart[] {
  let x = standing.length === 0 ? 0 : boxRound(standing).high[0] + APART;
  return loose.map((p) => {
    const [laid] = inWorld(
      [p],
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      [x, 0, 0],
    );
    x = boxRound([laid!]).high[0] + APART / 4;
    return laid!;
  });
}
