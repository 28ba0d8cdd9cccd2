import type { Point } from '@haunch/geometry';
import { cross, dot, type Vec } from './vec.js';

/** Where the eye stands, very far off: radians to the right of the front, and above the floor. */
export interface Standpoint {
  readonly azimuth: number;
  readonly elevation: number;
}

/** A parallel projection: x to the right and y up in the picture, and how near a place is to the eye. mm. */
export interface View {
  readonly right: Vec;
  readonly up: Vec;
  /** Towards the eye. */
  readonly eye: Vec;
}

/**
 * The view from a standpoint, with X to the right, Y to the rear and Z up.
 * @throws RangeError for angles that are not finite, or an elevation beyond a right angle.
 */
export function viewFrom({ azimuth, elevation }: Standpoint): View {
  if (!Number.isFinite(azimuth) || !(Math.abs(elevation) <= Math.PI / 2))
    throw new RangeError(`assembly picture: no view from azimuth ${azimuth}, elevation ${elevation}`);
  const [sa, ca, se, ce] = [Math.sin(azimuth), Math.cos(azimuth), Math.sin(elevation), Math.cos(elevation)];
  const eye: Vec = [sa * ce, -ca * ce, se];
  const right: Vec = [ca, sa, 0];
  return { right, up: cross(eye, right), eye };
}

/** A place in the picture. */
export const seen = (view: View, x: Vec): Point => ({ x: dot(x, view.right), y: dot(x, view.up) });

/** How near to the eye a plane through `x` with this normal is, as a function of the place in the picture. */
export interface Depth {
  readonly x: number;
  readonly y: number;
  readonly constant: number;
}

export function depthOf(view: View, x: Vec, normal: Vec): Depth {
  const slant = dot(normal, view.eye);
  return {
    x: -dot(normal, view.right) / slant,
    y: -dot(normal, view.up) / slant,
    constant: dot(normal, x) / slant,
  };
}

export const depthAt = (d: Depth, p: Point): number => d.x * p.x + d.y * p.y + d.constant;
