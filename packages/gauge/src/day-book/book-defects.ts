import type { BoardMotion } from '../map/inherit-map.js';
import { inOffCut } from '../map/off-cut.js';

/** A flaw of a board: the rectangle round it (x0, y0, x1, y1, mm) and the face that it is seen on, as the board lies when it is cut. */
export interface BookDefect {
  readonly box: readonly [number, number, number, number];
  readonly face: 'up' | 'down' | 'both';
}

const overLeaf = { up: 'down', down: 'up', both: 'both' } as const;

/**
 * The flaws of a board as an off-cut has them, in its own coordinates: what lies in it, in the rectangle round it where it was turned by
 * less than a quarter, and on the other face where it was turned over. mm
 */
export function defectsOnOffCut(
  defects: readonly BookDefect[],
  motion: BoardMotion,
  { width, height }: { readonly width: number; readonly height: number },
): BookDefect[] {
  return defects.flatMap(({ box: [x0, y0, x1, y1], face }): BookDefect[] => {
    const corners = [x0, x1].flatMap((x) => [y0, y1].map((y) => inOffCut(motion, { x, y })));
    const within = (v: number, most: number): number => Math.min(most, Math.max(0, v));
    const xs = corners.map((p) => within(p.x, width));
    const ys = corners.map((p) => within(p.y, height));
    const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
    return box[2] > box[0] && box[3] > box[1]
      ? [{ box, face: motion.turnedOver ? overLeaf[face] : face }]
      : [];
  });
}
