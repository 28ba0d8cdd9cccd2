import type { Frame, Vec } from '../frame.js';
import type { Plate } from './plate-layers.js';

/** A plate with a place in space. mm */
export interface Standing {
  readonly plate: Plate;
  readonly frame: Frame;
  /** Its number in the book of places; 0 outside of one. */
  readonly id: number;
  readonly low: Vec;
  readonly high: Vec;
  /** Where the corners of its curves are, one after the other; null until somebody has asked. Kept here, since a map of so many is slow. */
  corners: Float64Array | null;
}
