import type { Point } from '@haunch/geometry';
import type { Place } from '@haunch/model';

/**
 * One motion of the cutter's tip as the text says it, with the cutter in hand. Program coordinates, mm.
 * Plain data.
 */
export interface Stretch {
  /** Its place in the order of execution, from 0. */
  readonly index: number;
  /** Line of the program, from 1. */
  readonly line: number;
  readonly kind: 'rapid' | 'linear' | 'arc';
  readonly from: Place;
  readonly to: Place;
  /** Centre of an arc, and its sweep in radians, positive counter-clockwise; null and 0 for straight ones. */
  readonly centre: Point | null;
  readonly sweep: number;
  readonly feed: number | null;
  readonly spindle: number;
  readonly tool: number | null;
  /** Measured radius of the cutter in hand; 0 when none is known. */
  readonly radius: number;
  readonly drill: boolean;
  /** How far the point of a drill reaches beyond its full diameter, mm; 0 for all others. */
  readonly point: number;
}

/** The length of the tip's way, mm; along the helix where it is one. */
export function stretchLength(s: Stretch): number {
  const dz = s.to.z - s.from.z;
  const flat =
    s.centre === null
      ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)
      : Math.abs(s.sweep) * Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  return Math.hypot(flat, dz);
}

/** Where the tip is at a share `t` (0 … 1) of a stretch. */
export function placeAt(s: Stretch, t: number): Place {
  const z = s.from.z + (s.to.z - s.from.z) * t;
  if (t <= 0) return s.from;
  if (t >= 1) return s.to;
  if (s.centre === null)
    return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t, z };
  const r0 = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  const r1 = Math.hypot(s.to.x - s.centre.x, s.to.y - s.centre.y);
  const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep * t;
  const r = r0 + (r1 - r0) * t;
  return { x: s.centre.x + r * Math.cos(a), y: s.centre.y + r * Math.sin(a), z };
}

/** The shares of a stretch between which the tip is at or below a height; null when it never is. */
export function shareBelow(s: Stretch, height: number): readonly [number, number] | null {
  const a = s.from.z;
  const b = s.to.z;
  if (a <= height && b <= height) return [0, 1];
  if (a > height && b > height) return null;
  const t = (height - a) / (b - a);
  return a <= height ? [0, t] : [t, 1];
}

/** The lowest height of the tip on a stretch. */
export const lowest = (s: Stretch): number => Math.min(s.from.z, s.to.z);

/** The lowest height of the full diameter on a stretch: a drill's point makes no hole of its diameter. */
export const lowestFull = (s: Stretch): number => lowest(s) + s.point;

/** No machine for sheets reaches farther, mm. */
const FARTHEST = 1e5;

/** Whether a stretch stays within 100 m of the origin; others are refused by rule, not swept. */
export const withinReason = (s: Stretch): boolean =>
  [s.from.x, s.from.y, s.to.x, s.to.y, s.centre?.x ?? 0, s.centre?.y ?? 0].every(
    (v) => Math.abs(v) <= FARTHEST,
  );
