import { type Curve, fitArcs } from './fit-arcs.js';
import type { Point } from './point.js';
import { type ArcSegment, type Segment, segmentOfBulge } from './ring.js';

/** A linear map of the plane that keeps the origin: (x, y) → (a·x + b·y, c·x + d·y). */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/** Where a map takes a point. */
export const affinePoint = (m: Affine, p: Point): Point => ({
  x: m.a * p.x + m.b * p.y,
  y: m.c * p.x + m.d * p.y,
});

/**
 * The map that undoes this one.
 * @throws RangeError when the map flattens the plane.
 */
export function inverseAffine({ a, b, c, d }: Affine): Affine {
  const det = a * d - b * c;
  if (!(Math.abs(det) > 1e-12)) throw new RangeError('inverseAffine: the map flattens the plane');
  return { a: d / det, b: -b / det, c: -c / det, d: a / det };
}

/** Whether the map is a similarity that keeps the turn: then arcs stay arcs. */
const keepsCircles = ({ a, b, c, d }: Affine): boolean => a === d && b === -c;

/** The image of an arc as a curve over its angle. */
function imageOf(m: Affine, { centre, radius, from, sweep }: ArcSegment): Curve {
  const start = Math.atan2(from.y - centre.y, from.x - centre.x);
  const angle = (t: number): number => start + sweep * t;
  return {
    at: (t) =>
      affinePoint(m, {
        x: centre.x + radius * Math.cos(angle(t)),
        y: centre.y + radius * Math.sin(angle(t)),
      }),
    tangent: (t) => affinePoint(m, { x: -sweep * Math.sin(angle(t)), y: sweep * Math.cos(angle(t)) }),
  };
}

/**
 * Lines and arcs that follow the image of a segment under a linear map within `tolerance` mm: a line stays a line; an
 * arc becomes part of an ellipse, which is no arc, and is followed by arcs (`fitArcs`). Ends are exact.
 * @throws RangeError when the tolerance is not positive.
 */
export function affineSegment(
  m: Affine,
  s: Segment,
  { tolerance }: { readonly tolerance: number },
): Segment[] {
  const tag = s.tag === undefined ? {} : { tag: s.tag };
  if (s.kind === 'line')
    return [{ kind: 'line', from: affinePoint(m, s.from), to: affinePoint(m, s.to), ...tag }];
  const whole = Math.abs(s.sweep) > Math.PI;
  if (keepsCircles(m) && !whole)
    return [segmentOfBulge(affinePoint(m, s.from), affinePoint(m, s.to), Math.tan(s.sweep / 4), s.tag)];
  // In halves, so that a full turn is never one arc without ends.
  const fitted = [
    ...fitArcs(imageOf(m, s), [0, 0.5], { tolerance }),
    ...fitArcs(imageOf(m, s), [0.5, 1], { tolerance }),
  ];
  return fitted.map((f) => ({ ...f, ...tag }));
}
