import { SAME_PLACE } from '../tolerances.js';

/**
 * Solids that overlap by less than this in any direction are in contact, mm. Surfaces in contact have no common
 * volume, but coordinates lie on a grid of 0.0001 mm and a master is good to a thousandth, so that two faces meant to
 * be one may overlap by as much; anything a shop could feel is fifty times more.
 */
export const SKIN = SAME_PLACE;

/**
 * A located wall farther off than this is no wall of the joint but free room, mm: nobody draws half a millimetre of
 * play, since clearance is added after drawing (common practice, no source).
 */
export const CLOSE = 0.5;

/** Curves are followed in steps that leave no more than this of the material out of account in a sweep, mm. */
export const COARSE = 1;

/** Unit vectors are one direction, or at right angles, within this: rounding of normalised vectors. */
export const SAME_WAY = 1e-6;
