import { inscribedWidth } from './inscribed-width.js';
import { offsetRing } from './offset-ring.js';
import { type Ring, ringOfSegments, ringSegments } from './ring.js';

/** The diameter is found within this, mm: half a grid step as a radius. */
const WITHIN = 5e-5;

/** Which sides a cutter of this radius can lie against from inside, by number; none where it cannot pass from one to all others. */
function touched(r: Ring, radius: number): ReadonlySet<string> {
  const left = offsetRing(r, { by: -radius });
  if (left.length !== 1) return new Set();
  return new Set(left.flatMap((o) => ringSegments(o).flatMap((s) => s.tag ?? [])));
}

/**
 * The diameter of the largest round cutter that can lie against every side of a simple ring from inside, within
 * 0.0001 mm, and pass from one to the other without leaving the wood: the largest that cuts all of a slot or pocket but its corners. It is bounded by the narrowest passage between two
 * sides and by the hollow arcs; `inscribedWidth`, the largest circle that finds room at all, is never less. 0 for a ring without
 * area. Found by halving: a side is reached while the ring shrunk by the radius still has an edge from it.
 */
export function largestCutter(r: Ring): number {
  const most = inscribedWidth(r) / 2;
  if (most <= WITHIN) return 0;
  const numbered = ringOfSegments(ringSegments(r).map((s, i) => ({ ...s, tag: `${i}` })));
  const sides = new Set(ringSegments(numbered).flatMap((s) => s.tag ?? []));
  const reachesAll = (radius: number): boolean => {
    const found = touched(numbered, radius);
    return [...sides].every((s) => found.has(s));
  };
  let [least, above] = [0, most];
  // Just under the largest circle a slot of one width still shows all its sides.
  if (reachesAll(most - WITHIN / 2)) return 2 * most;
  while (above - least > WITHIN / 2) {
    const middle = (least + above) / 2;
    if (reachesAll(middle)) least = middle;
    else above = middle;
  }
  return 2 * least;
}
