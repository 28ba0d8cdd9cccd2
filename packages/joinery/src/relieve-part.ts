import type { pointRingDistance } from '@haunch/geometry';
import type { Contour, Diagnostic, Part, ReliefForm } from '@haunch/model';
import type { Setbacks } from './clearance.js';
import type { Contact } from './joinery.js';

/** How inside corners are relieved: the cutter's radius, what more the relief is to clear (mm), and its form. */
export interface ReliefOptions {
  readonly radius: number;
  readonly surplus: number;
  readonly form: ReliefForm;
}
/** x */
export function relievePart(
  part: Part,
  _c: readonly Contact[],
  _s: Setbacks,
  _r: ReliefOptions,
  _d: Diagnostic[],
): Part {
  return part;
}
void (0 as unknown as [Contour, typeof pointRingDistance]);
