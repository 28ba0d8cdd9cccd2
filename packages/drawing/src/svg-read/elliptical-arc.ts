import type { Point } from '@haunch/geometry';

/** An arc of an ellipse: P(s) = centre + u·cos s + v·sin s for s from 0 to `sweep` (signed). */
export interface EllipticalArc {
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly sweep: number;
}

/** What an elliptical arc command says, in its own user space. */
export interface ArcCommand {
  readonly from: Point;
  readonly rx: number;
  readonly ry: number;
  /** Degrees. */
  readonly rotation: number;
  readonly large: boolean;
  readonly positive: boolean;
  readonly to: Point;
}

/**
 * The arc that an `A` command draws, by the conversion from end points to centre of SVG 1.1 F.6.5 with the
 * correction of radii that are too small of F.6.6 (SVG 2, B.2.4 and B.2.5). `null` where it is a straight line
 * (a radius of 0, F.6.2) or nothing (equal ends). `radiusGrew` is √Λ where the radii had to be enlarged.
 */
export function arcOfCommand(
  c: ArcCommand,
): { readonly arc: EllipticalArc; readonly radiusGrew: number; readonly theta: number } | null {
  let [rx, ry] = [Math.abs(c.rx), Math.abs(c.ry)];
  if (rx === 0 || ry === 0 || (c.from.x === c.to.x && c.from.y === c.to.y)) return null;
  const phi = (c.rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
  const dx = (c.from.x - c.to.x) / 2;
  const dy = (c.from.y - c.to.y) / 2;
  // Scaled by the radii, so that neither overflow nor underflow meets their squares.
  let x = (cos * dx + sin * dy) / rx;
  let y = (-sin * dx + cos * dy) / ry;
  const lambda = x * x + y * y;
  if (!Number.isFinite(lambda) || lambda === 0) return null;
  const radiusGrew = lambda > 1 ? Math.sqrt(lambda) : 1;
  if (lambda > 1) {
    rx *= radiusGrew;
    ry *= radiusGrew;
    x /= radiusGrew;
    y /= radiusGrew;
  }
  const k = lambda > 1 ? 0 : Math.sqrt((1 - lambda) / lambda) * (c.large === c.positive ? -1 : 1);
  const [cx, cy] = [k * y, -k * x];
  const theta = Math.atan2(y - cy, x - cx);
  let sweep = Math.atan2(-y - cy, -x - cx) - theta;
  if (c.positive && sweep < 0) sweep += 2 * Math.PI;
  if (!c.positive && sweep > 0) sweep -= 2 * Math.PI;
  const turned = (px: number, py: number): Point => ({
    x: cos * rx * px - sin * ry * py,
    y: sin * rx * px + cos * ry * py,
  });
  const middle = turned(cx, cy);
  return {
    arc: {
      centre: { x: middle.x + (c.from.x + c.to.x) / 2, y: middle.y + (c.from.y + c.to.y) / 2 },
      u: turned(x - cx, y - cy),
      v: turned(-(y - cy), x - cx),
      sweep,
    },
    radiusGrew,
    theta,
  };
}

export const arcAt = (a: EllipticalArc, s: number): Point => ({
  x: a.centre.x + a.u.x * Math.cos(s) + a.v.x * Math.sin(s),
  y: a.centre.y + a.u.y * Math.cos(s) + a.v.y * Math.sin(s),
});

/** The half-axes of the arc's ellipse, the greater first (the singular values of [u v]). */
export function halfAxes({ u, v }: EllipticalArc): readonly [number, number] {
  const [uu, vv] = [u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y];
  const spread = Math.hypot((uu - vv) / 2, u.x * v.x + u.y * v.y);
  const a = Math.sqrt((uu + vv) / 2 + spread);
  // The product of the axes is the area of u × v: this keeps the smaller exact.
  return a === 0 ? [0, 0] : [a, Math.abs(u.x * v.y - u.y * v.x) / a];
}
