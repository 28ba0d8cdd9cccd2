import type { Point } from '@haunch/geometry';

/** How far, in steps, an arc of a whole radius may bow otherwise than the wanted one. */
const BOW = 1;

/**
 * The whole radius, in steps, with which an arc of less than half a turn between two rounded ends runs nearest to a wanted place in its
 * middle; null where even that bows it by more than a step, or where no arc of less than half a turn does.
 *
 * With half the chord h and the bow s, R = (h² + s²) / 2s; a small change of R moves the bow by 1 − R / √(R² − h²), which grows
 * without bound towards half a turn (NISTIR 6556, 3.5.3.1, on radius format arcs).
 */
export function solveRadius(from: Point, to: Point, middle: Point, sweep: number): number | null {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = Math.hypot(dx, dy);
  const half = chord / 2;
  const side = ((middle.x - from.x) * dy - (middle.y - from.y) * dx) / chord;
  const bow = sweep > 0 ? side : -side;
  if (!(bow > 0) || bow >= half) return null;
  const radius = Math.round((half * half + bow * bow) / (2 * bow));
  if (radius <= half) return null;
  const written = radius - Math.sqrt(radius * radius - half * half);
  return Math.abs(written - bow) <= BOW ? radius : null;
}
