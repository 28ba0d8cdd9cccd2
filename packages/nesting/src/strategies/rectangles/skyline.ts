/** A rectangle to be laid: its length along the strip and its width across, and whether it may lie the other way. */
export interface Slab {
  readonly long: number;
  readonly wide: number;
  readonly turns: boolean;
}

/** Where slabs went: along and across the strip, and which lie the other way. */
export interface Slabs {
  readonly along: Float64Array;
  readonly across: Float64Array;
  readonly turned: Uint8Array;
  /** How much of the strip they take. */
  length: number;
  /** Area beyond `aim`, the waste there included only where a slab lies on it. */
  beyond: number;
}

/** Room for `n` slabs. */
export const slabsFor = (n: number): Slabs => ({
  along: new Float64Array(n),
  across: new Float64Array(n),
  turned: new Uint8Array(n),
  length: 0,
  beyond: 0,
});

/** How well a slab of (`l`, `w`) fits a gap `g` wide whose sides rise by `a` and `b`: the more of its edges meet, the better. */
function fitness(l: number, w: number, g: number, a: number, b: number): number {
  if (w === g) return l === a || l === b ? (a === b ? 6 : 5) : l < Math.max(a, b) ? 4 : 3;
  return l === a || l === b ? 2 : 1;
}

/**
 * Fills a strip `width` across: at the lowest gap lies the first slab, in the given order, that fits it best; a gap
 * that none fits is closed. Writes where the slabs lie; false where one is wider than the strip.
 * Source: best fit on a skyline (E. K. Burke, G. Kendall & G. Whitwell, Operations Research 52, 2004), scored after
 * S. C. H. Leung, D. Zhang & K. M. Sim, "A two-stage intelligent search algorithm for the two-dimensional strip
 * packing problem" (EJOR 215, 2011).
 */
export function fillStrip(
  slabs: readonly Slab[],
  order: Int32Array,
  width: number,
  aim: number,
  to: Slabs,
): boolean {
  const n = slabs.length;
  const left = Array.from(order);
  // The skyline: steps from `from[k]` on, at height `at[k]`.
  const from = [0];
  const at = [0];
  to.length = 0;
  to.beyond = 0;
  for (let laid = 0; laid < n; ) {
    let low = 0;
    for (let k = 1; k < at.length; k++) if (at[k]! < at[low]!) low = k;
    const end = low + 1 < from.length ? from[low + 1]! : width;
    const gap = end - from[low]!;
    const before = low > 0 ? at[low - 1]! - at[low]! : Infinity;
    const after = low + 1 < at.length ? at[low + 1]! - at[low]! : Infinity;
    let best = -1;
    let bestFit = 0;
    let bestTurned = 0;
    for (let i = 0; i < left.length && bestFit < 6; i++) {
      const s = slabs[left[i]!]!;
      if (s.wide <= gap) {
        const fit = fitness(s.long, s.wide, gap, before, after);
        if (fit > bestFit) [best, bestFit, bestTurned] = [i, fit, 0];
      }
      if (s.turns && s.long <= gap) {
        const fit = fitness(s.wide, s.long, gap, before, after);
        if (fit > bestFit) [best, bestFit, bestTurned] = [i, fit, 1];
      }
    }
    if (best < 0) {
      if (before === Infinity && after === Infinity) return false;
      // Nothing fits: the gap is closed up to its lower side.
      if (before <= after) {
        at[low] = at[low]! + before;
        from.splice(low, 1);
        at.splice(low, 1);
        if (before === after) {
          from.splice(low, 1);
          at.splice(low, 1);
        }
      } else {
        at[low] = at[low]! + after;
        from.splice(low + 1, 1);
        at.splice(low + 1, 1);
      }
      continue;
    }
    const item = left[best]!;
    left.splice(best, 1);
    laid++;
    const s = slabs[item]!;
    const long = bestTurned ? s.wide : s.long;
    const wide = bestTurned ? s.long : s.wide;
    const high = at[low]! + long;
    // Beside the side that it meets, or else the higher one.
    const atStart = wide === gap || long === before || (long !== after && before >= after);
    to.along[item] = at[low]!;
    to.across[item] = atStart ? from[low]! : end - wide;
    to.turned[item] = bestTurned;
    to.length = Math.max(to.length, high);
    if (high > aim) to.beyond += wide * (high - Math.max(aim, at[low]!));
    if (wide === gap) at[low] = high;
    else if (atStart) {
      from.splice(low + 1, 0, from[low]! + wide);
      at.splice(low, 0, high);
    } else {
      from.splice(low + 1, 0, end - wide);
      at.splice(low + 1, 0, high);
    }
    for (let k = Math.max(1, low); k <= low + 2 && k < at.length; )
      if (at[k] === at[k - 1]) {
        from.splice(k, 1);
        at.splice(k, 1);
      } else k++;
  }
  return true;
}
