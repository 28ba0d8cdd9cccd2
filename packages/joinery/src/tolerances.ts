/** How far apart places may lie that a master means to be one, mm: its drawing is good to a thousandth. */
export const SAME_PLACE = 0.001;

/** How far unit vectors may be from unit length and from square: what four decimals of a component allow. */
export const SAME_DIRECTION = 1e-4;

/** The least area of two faces that counts as touching, mm²; less is an edge along an edge. */
export const LEAST_CONTACT = 0.01;

/** Plates at less than this to each other are not slotted together, as the sine of the angle: slots would grow beyond all sense. */
export const LEAST_LEAN = 0.1;
