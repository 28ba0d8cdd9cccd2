import type { Point } from '@haunch/geometry';
import { type Affine, mapPoint, mapVector } from './affine.js';
import type { EllipticalArc } from './elliptical-arc.js';

/** One piece of a path from where the last ended. */
export type Curve =
  | { readonly kind: 'line'; readonly to: Point }
  | { readonly kind: 'cubic'; readonly c1: Point; readonly c2: Point; readonly to: Point }
  | { readonly kind: 'arc'; readonly arc: EllipticalArc; readonly to: Point };

/** A subpath. */
export interface CurveRun {
  readonly start: Point;
  readonly curves: readonly Curve[];
  readonly closed: boolean;
}

/** Where an affine map takes a subpath: ellipses stay ellipses, Bézier curves stay such. */
export function mapRun(m: Affine, run: CurveRun): CurveRun {
  const at = (p: Point) => mapPoint(m, p);
  return {
    start: at(run.start),
    closed: run.closed,
    curves: run.curves.map((c): Curve => {
      if (c.kind === 'line') return { kind: 'line', to: at(c.to) };
      if (c.kind === 'cubic') return { kind: 'cubic', c1: at(c.c1), c2: at(c.c2), to: at(c.to) };
      const { centre, u, v, sweep } = c.arc;
      return {
        kind: 'arc',
        arc: { centre: at(centre), u: mapVector(m, u), v: mapVector(m, v), sweep },
        to: at(c.to),
      };
    }),
  };
}

/** A straight run through points. */
export const polygonRun = (points: readonly Point[], closed: boolean): CurveRun => ({
  start: points[0]!,
  curves: points.slice(1).map((to): Curve => ({ kind: 'line', to })),
  closed,
});
