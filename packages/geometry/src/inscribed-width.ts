import { inscribedCircle } from './inscribed-circle.js';
import type { Ring } from './ring.js';

/**
 * The diameter of the largest circle that lies inside a simple ring, within ±0.0001 mm: the largest cutter
 * that finds room in it. 0 for a ring without area.
 */
export const inscribedWidth = (r: Ring): number => 2 * (inscribedCircle(r)?.radius ?? 0);
