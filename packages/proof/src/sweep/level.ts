import { lowest, type Stretch } from './stretch.js';

/** A slab of the sheet over which what is removed changes only by ramps. Program heights, mm. */
export interface Level {
  readonly low: number;
  readonly high: number;
  /**
   * The height at which the slab is judged: just below its upper side, where ramps have removed most. What a
   * ramp leaves standing below it shows in the next slab down, or at the underside.
   */
  readonly at: number;
}

/** How far below its upper side a slab is judged, mm. */
export const UNDER = 0.0005;
/** Depths nearer to each other than this are one, mm. */
const SAME_DEPTH = 0.002;
/** The most slabs that are told apart. */
const MOST_LEVELS = 64;

/** Heights at which the cutter's tip runs level, turns up or turns down, within the sheet. */
function turningHeights(stretches: readonly Stretch[], top: number): number[] {
  const out: number[] = [];
  for (let i = 0; i < stretches.length; i++) {
    const s = stretches[i]!;
    if (lowest(s) >= top) continue;
    const next = stretches[i + 1];
    const before = s.to.z - s.from.z;
    const turns = before === 0 || next === undefined || before * (next.to.z - next.from.z) <= 0;
    if (turns) out.push(s.to.z + s.point);
  }
  return out;
}

/**
 * The slabs of a sheet between neighbouring depths of the cutter and other heights that matter, lowest first.
 * `step` is the least thickness told apart: 0.002 mm, or more where a program knows too many depths.
 */
export function findLevels(
  stretches: readonly Stretch[],
  {
    top,
    bottom,
    heights,
  }: { readonly top: number; readonly bottom: number; readonly heights: readonly number[] },
): { readonly levels: readonly Level[]; readonly step: number } {
  const all = [...new Set([...turningHeights(stretches, top), ...heights])].sort((a, b) => a - b);
  let step = SAME_DEPTH;
  for (;;) {
    // The first slab is the underside itself.
    const bounds = [bottom, bottom + 2 * UNDER];
    for (const z of all) if (z > bounds[bounds.length - 1]! + step && z < top - step) bounds.push(z);
    bounds.push(top);
    if (bounds.length <= MOST_LEVELS + 1) {
      const levels = bounds.slice(0, -1).map((low, i): Level => {
        const high = bounds[i + 1]!;
        return { low, high, at: high - UNDER };
      });
      return { levels, step };
    }
    step *= 2;
  }
}
