import type { Point } from '@haunch/geometry';
import type { PlainMotion } from './plain-motion.js';

/** The share [a, b] of a motion on which the tip is at or below a height; null when it never is. */
function shareBelow({ from, to }: PlainMotion, height: number): readonly [number, number] | null {
  if (from.z <= height && to.z <= height) return [0, 1];
  if (from.z > height && to.z > height) return null;
  const t = (height - from.z) / (to.z - from.z);
  return to.z <= height ? [t, 1] : [0, t];
}

/** Least distance in the plane from a point to the part of a motion whose tip is at or below a height; Infinity where there is none. */
function distanceBelow(m: PlainMotion, p: Point, height: number): number {
  const share = shareBelow(m, height);
  if (share === null) return Infinity;
  const [a, b] = share;
  if (m.arc === null) {
    const dx = m.to.x - m.from.x;
    const dy = m.to.y - m.from.y;
    const l2 = dx * dx + dy * dy;
    const foot = l2 === 0 ? a : ((p.x - m.from.x) * dx + (p.y - m.from.y) * dy) / l2;
    const t = Math.min(b, Math.max(a, foot));
    return Math.hypot(m.from.x + t * dx - p.x, m.from.y + t * dy - p.y);
  }
  const { x, y, sweep } = m.arc;
  const r = Math.hypot(m.from.x - x, m.from.y - y);
  const start = Math.atan2(m.from.y - y, m.from.x - x);
  const on = (t: number): number =>
    Math.hypot(x + r * Math.cos(start + t * sweep) - p.x, y + r * Math.sin(start + t * sweep) - p.y);
  let turned = (Math.atan2(p.y - y, p.x - x) - start) * Math.sign(sweep);
  turned -= Math.floor(turned / (2 * Math.PI)) * 2 * Math.PI;
  const foot = turned / Math.abs(sweep);
  const inside = foot >= a && foot <= b ? Math.abs(Math.hypot(p.x - x, p.y - y) - r) : Infinity;
  return Math.min(inside, on(a), on(b));
}

/**
 * How far a point is from being cut at a height, mm: the distance to the nearest path of a tip at or below it, less
 * the cutter's radius. Negative where it is cut; `none` where nothing comes near.
 */
export function clearanceAt(
  motions: readonly PlainMotion[],
  radiusOf: (tool: number) => number,
  p: Point,
  height: number,
  none: number,
): number {
  let least = none;
  for (const m of motions) least = Math.min(least, distanceBelow(m, p, height) - radiusOf(m.tool));
  return least;
}
