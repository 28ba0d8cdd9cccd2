import type { Point } from '@haunch/geometry';
import type { EllipseEntity } from '../drawing.js';

/** What an ellipse entity says beside its place. */
export type EllipseShape = Pick<EllipseEntity, 'centre' | 'major' | 'ratio' | 'start' | 'end'>;

const FULL = 2 * Math.PI;
/** Parameters this near to a full turn apart go all the way round, radians. */
const SAME = 1e-9;

/**
 * The ellipse P(s) = centre + u·cos s + v·sin s for s from `s0` to `s1` (either way; equal ends or a full turn go
 * all the way round) by its principal axes, counter-clockwise; null where it encloses nothing. With
 * tan 2t = 2u·v / (u² − v²), u·cos t + v·sin t is the greater half-axis.
 */
export function ellipseOfAxes(
  centre: Point,
  u: Point,
  v: Point,
  s0: number,
  s1: number,
): EllipseShape | null {
  const uv = u.x * v.x + u.y * v.y;
  const difference = u.x * u.x + u.y * u.y - v.x * v.x - v.y * v.y;
  const t = Math.atan2(2 * uv, difference) / 2;
  const [c, s] = [Math.cos(t), Math.sin(t)];
  const major = { x: u.x * c + v.x * s + 0, y: u.y * c + v.y * s + 0 };
  const minor = { x: v.x * c - u.x * s, y: v.y * c - u.y * s };
  const length = Math.hypot(major.x, major.y);
  const cross = major.x * minor.y - major.y * minor.x;
  const ratio = Math.min(1, Math.abs(cross) / (length * length));
  if (!(length > 0) || !(ratio > 0) || !Number.isFinite(length)) return null;
  const rising = s1 >= s0;
  let sweep = Math.abs(s1 - s0);
  if (sweep < SAME || sweep > FULL - SAME) sweep = FULL;
  const low = (rising ? s0 : s1) - t;
  // Seen with the minor axis on the right the parameter runs clockwise, so that it is counted backwards.
  const start = cross > 0 ? low : -(low + sweep);
  const wrapped = sweep === FULL ? 0 : wrap(start);
  return { centre, major, ratio, start: wrapped, end: wrapped + sweep };
}

function wrap(s: number): number {
  const w = s - FULL * Math.floor(s / FULL);
  return w >= FULL ? 0 : w + 0;
}

export const ellipseAt = (e: EllipseShape, s: number): Point => {
  const [c, d] = [Math.cos(s), e.ratio * Math.sin(s)];
  return { x: e.centre.x + e.major.x * c - e.major.y * d, y: e.centre.y + e.major.y * c + e.major.x * d };
};

/** The direction of travel at a parameter; its length is that of the derivative. */
export const ellipseSlope = (e: EllipseShape, s: number): Point => {
  const [c, d] = [-Math.sin(s), e.ratio * Math.cos(s)];
  return { x: e.major.x * c - e.major.y * d, y: e.major.y * c + e.major.x * d };
};
