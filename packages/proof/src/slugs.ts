import { type Clip, flattenRing } from '@haunch/geometry';
import { CHIP } from './bridges.js';
import { type Piece, standing } from './sweep/pieces.js';
import type { Patch } from './sweep/sweeper.js';
import type { WantedContour } from './wanted/wanted-contour.js';

/** How far into the part the surroundings of a cut are looked at, mm. */
const AROUND = 2;
/** Keeps short of the kerf's far side, mm. */
const SHORT = 0.1;

/**
 * Looks for what is left standing inside a through cut and hangs on nothing around it: pieces of more than 1 mm² of the
 * contour, with 2 mm of the part round it, that do not reach the part. Asked of what is removed at several moments.
 */
export function looseIn(clip: Clip, contour: WantedContour): (patches: readonly Patch[]) => Piece[] {
  const ring = [flattenRing(contour.ring, { tolerance: 0.01 })];
  const window = clip.grow(ring, AROUND, 0.01);
  const edge = clip.grow(ring, AROUND - 0.05, 0.01);
  return (patches) => {
    const pieces = standing(clip, window, patches).filter((p) => p.area > CHIP);
    return pieces.length < 2 ? [] : pieces.filter((p) => clip.difference([p.outer], edge).length === 0);
  };
}

/**
 * What is left inside a through cut beyond its kerf, held or loose: pieces of more than 1 mm². `kerf` is the width
 * of the narrowest cutter; nearer to the wall are the corners that it cannot reach. mm
 */
export const slugPieces = (
  clip: Clip,
  contour: WantedContour,
  patches: readonly Patch[],
  kerf: number,
): Piece[] =>
  standing(
    clip,
    clip.grow([flattenRing(contour.ring, { tolerance: 0.01 })], SHORT - kerf, 0.01),
    patches,
  ).filter((p) => p.area > CHIP);
