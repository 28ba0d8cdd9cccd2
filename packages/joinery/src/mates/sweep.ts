import type { Standing } from './standing-plate.js';

/** The order of two places in a sweep along an axis, then along the next ones, each to the millimetre. */
export function inSweep(a: Standing, b: Standing, axis: 0 | 1 | 2): number {
  for (let k = 0; k < 3; k++) {
    const at = (axis + k) % 3;
    const apart = Math.round(a.low[at]! + OFF) - Math.round(b.low[at]! + OFF);
    if (apart !== 0) return apart;
  }
  return 0;
}

/** Puts the limits between millimetres where drawings seldom have an edge. mm */
const OFF = 0.137;
