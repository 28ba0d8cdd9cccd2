import type { Diagnostic, Locus } from '@haunch/model';
import { cutterDiffers } from '../diagnostics.js';

/** How sure a diameter must be to contradict what the job says: two standard uncertainties of both. */
const SURE = 2;
/** A diameter in a job is written to a hundredth, so that half of one says nothing. mm */
const AS_WRITTEN = 0.005;

/**
 * Compares a cutter's measured or followed diameter with the one that the job declares: a warning with the figure when they are further
 * apart than twice the standard uncertainty and what rounding to a hundredth may hide; else nothing. mm
 */
export function cutterAsDeclared(
  cutter: { readonly id: string; readonly diameter: number },
  known: { readonly diameter: number; readonly u: number },
  by: 'ladder' | 'book',
  locus: Locus = {},
): Diagnostic[] {
  const apart = Math.abs(known.diameter - cutter.diameter);
  return apart > SURE * known.u + AS_WRITTEN
    ? [cutterDiffers(cutter.id, known.diameter, known.u, cutter.diameter, by, locus)]
    : [];
}
