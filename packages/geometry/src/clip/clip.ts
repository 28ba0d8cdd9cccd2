import type { MainModule, PathsD } from 'clipper2-wasm/dist/clipper2z';
import type { Point } from '../point.js';

/** A polygon by its corners, mm; counter-clockwise is material, clockwise a hole. */
export type Polygon = readonly Point[];

/** Polygon operations on straight-edged polygons. Inputs may be self-crossing; the rule is non-zero winding. */
export interface Clip {
  /** The area covered by any of the polygons. */
  union(polygons: readonly Polygon[]): Polygon[];
  /** What of `a` is not covered by `b`. */
  difference(a: readonly Polygon[], b: readonly Polygon[]): Polygon[];
  /** What `a` and `b` both cover. */
  intersection(a: readonly Polygon[], b: readonly Polygon[]): Polygon[];
  /** Polygons grown (or shrunk, `by` < 0) with round corners; corners inscribed within `tolerance` mm. */
  grow(polygons: readonly Polygon[], by: number, tolerance: number): Polygon[];
  /** The area within `radius` of the open polylines: what a round cutter sweeps. Inscribed within `tolerance` mm. */
  sweep(polylines: readonly Polygon[], radius: number, tolerance: number): Polygon[];
}

/** Clipper works on a power-of-two grid at precision p: 2^-26 mm here, far below the 0.0001 mm snap. */
const PRECISION = 8;

/** Wraps the loaded module: marshals in batches, frees all that it makes, turns thrown numbers into errors. */
export function clipOf(m: MainModule): Clip {
  const guard = <T>(work: (own: <P extends { delete(): void }>(p: P) => P) => T): T => {
    const owned: { delete(): void }[] = [];
    try {
      return work((p) => {
        owned.push(p);
        return p;
      });
    } catch (e) {
      throw e instanceof Error ? e : new Error(`polygon kernel: error ${String(e)}`);
    } finally {
      for (const p of owned) p.delete();
    }
  };
  const put = (polygons: readonly Polygon[], own: <P extends { delete(): void }>(p: P) => P): PathsD => {
    const paths = own(new m.PathsD());
    for (const polygon of polygons) {
      const flat = new Float64Array(polygon.length * 3);
      polygon.forEach((p, i) => {
        if (!Number.isFinite(p.x) || !Number.isFinite(p.y))
          throw new RangeError('clip: a corner is not finite');
        flat[i * 3] = p.x;
        flat[i * 3 + 1] = p.y;
      });
      const path = new m.PathD();
      path.assign(flat);
      paths.push_back(path);
      path.delete();
    }
    return paths;
  };
  const take = (paths: PathsD): Polygon[] => {
    const out: Polygon[] = [];
    for (let i = 0; i < paths.size(); i++) {
      const path = paths.get(i);
      const view = path.view() as unknown as Float64Array;
      const polygon: Point[] = [];
      for (let k = 0; k < view.length; k += 3) polygon.push({ x: view[k]!, y: view[k + 1]! });
      path.delete();
      out.push(polygon);
    }
    return out;
  };
  return {
    union: (polygons) =>
      guard((own) => take(own(m.UnionSelfD(put(polygons, own), m.FillRule.NonZero, PRECISION)))),
    difference: (a, b) =>
      guard((own) => take(own(m.DifferenceD(put(a, own), put(b, own), m.FillRule.NonZero, PRECISION)))),
    intersection: (a, b) =>
      guard((own) => take(own(m.IntersectD(put(a, own), put(b, own), m.FillRule.NonZero, PRECISION)))),
    grow: (polygons, by, tolerance) =>
      guard((own) =>
        take(
          own(
            m.InflatePathsD(
              put(polygons, own),
              by,
              m.JoinType.Round,
              m.EndType.Polygon,
              2,
              PRECISION,
              tolerance,
            ),
          ),
        ),
      ),
    sweep: (polylines, radius, tolerance) =>
      guard((own) =>
        take(
          own(
            m.InflatePathsD(
              put(polylines, own),
              radius,
              m.JoinType.Round,
              m.EndType.Round,
              2,
              PRECISION,
              tolerance,
            ),
          ),
        ),
      ),
  };
}
