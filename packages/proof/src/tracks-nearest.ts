import type { Point } from '@haunch/geometry';
import { lowest, type Stretch } from './sweep/stretch.js';
import { trackBelow, trackDistance } from './sweep/track.js';

/**
 * The motion below `top` whose swept edge comes nearest to a place; of several the last. Asks all motions, so it
 * is for findings only. Undefined when nothing is cut.
 */
export function nearestStretch(stretches: readonly Stretch[], at: Point, top: number): Stretch | undefined {
  let best: Stretch | undefined;
  let gap = Infinity;
  for (const s of stretches) {
    if (lowest(s) >= top) continue;
    const t = trackBelow(s, top);
    if (t === null) continue;
    const d = Math.abs(trackDistance(t, at.x, at.y) - t.radius);
    if (d <= gap + 1e-6) [best, gap] = [s, Math.min(gap, d)];
  }
  return best;
}
