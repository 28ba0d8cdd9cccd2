import { subtractRings } from './booleans.js';
import { offsetRing } from './offset-ring.js';
import { regionsOfRings } from './region.js';
import { type Region, reverseRing } from './ring.js';

/**
 * The regions that a region grown by `by` mm (`by` > 0) or shrunk (`by` < 0) becomes, true to its arcs. Growing
 * gives one, its holes shrunk, split or filled, with a further hole for each hollow that the grown outside
 * closes round. Shrinking may give several, or none; where holes grow into each other or into the outside, their
 * curves end where they meet.
 *
 * Guaranteed: every point of the result's curves is at |by| ± 0.000001 mm from the curves of the region; tags
 * stay as in `offsetRing`; regions and holes come in the order of `subtractRings`. The outer ring and the holes
 * must be simple, the holes inside and apart from each other; which way they run does not matter.
 * @throws RangeError when `by` is not finite.
 */
export function offsetRegion(region: Region, { by }: { readonly by: number }): Region[] {
  if (!Number.isFinite(by)) throw new RangeError(`offsetRegion: by ${by} is not a finite length`);
  const outside = offsetRing(region.outer, { by });
  if (by >= 0) {
    // Holes shrink within themselves and hollows are outside, so that none of the rings meet.
    const holes = region.holes.flatMap((h) => offsetRing(h, { by: -by }));
    return regionsOfRings([...outside, ...holes.map((h) => reverseRing(h))]);
  }
  if (region.holes.length === 0) return regionsOfRings(outside);
  return subtractRings(
    outside,
    region.holes.flatMap((h) => offsetRing(h, { by: -by })),
  );
}
