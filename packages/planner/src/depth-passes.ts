import type { Cutter } from '@haunch/model';
import { COMPRESSION_MARGIN } from './practice.js';

/** The depths of a cut, one a pass, and what a compression cutter's first pass should have been deeper than. */
export interface DepthPasses {
  /** Below the sheet's top, positive, deepest last. mm */
  readonly depths: readonly number[];
  /** Null when the first pass is deep enough, or the cutter has no up-cut length. mm */
  readonly neededFirst: number | null;
}

/** Beyond the margin, so that the pass is deeper than it after rounding. */
const JUST_BEYOND = 0.01;

/**
 * Even passes of at most the cutter's depth per pass down to `total` mm. A compression cutter's first pass is
 * made deeper than its up-cut length and margin (reference value C9) where the depth per pass and the total
 * allow it; the rest is shared evenly.
 * @throws RangeError when `total` or the depth per pass is not positive.
 */
export function depthPasses(
  total: number,
  cutter: Pick<Cutter, 'depthPerPass' | 'upCutLength'>,
): DepthPasses {
  if (!(total > 0) || !(cutter.depthPerPass > 0))
    throw new RangeError(`depthPasses: ${total} in passes of ${cutter.depthPerPass}`);
  const count = Math.max(1, Math.ceil(total / cutter.depthPerPass - 1e-9));
  let first = total / count;
  let needed: number | null = null;
  if (cutter.upCutLength !== null) {
    const least = cutter.upCutLength + COMPRESSION_MARGIN;
    first = Math.min(total, Math.max(first, Math.min(cutter.depthPerPass, least + JUST_BEYOND)));
    if (first < least - 1e-9) needed = least;
  }
  const depths = [first];
  for (let k = 1; k < count; k++)
    depths.push(k === count - 1 ? total : first + ((total - first) * k) / (count - 1));
  // A deeper first pass may have left nothing for the later ones.
  return { depths: depths.filter((d, k) => k === 0 || d > depths[k - 1]! + 1e-6), neededFirst: needed };
}
