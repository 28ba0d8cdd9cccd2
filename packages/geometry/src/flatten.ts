import type { Point } from './point.js';
import { type Ring, ringSegments, type Segment } from './ring.js';

/** The number of chords for an arc: sagitta r(1 − cos(Δ/2)) ≤ tolerance (reference value G4). */
export function chordCount(radius: number, sweep: number, tolerance: number): number {
  if (radius <= tolerance) return Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 2)));
  const step = 2 * Math.acos(1 - tolerance / radius);
  return Math.max(1, Math.ceil(Math.abs(sweep) / step - 1e-9));
}

/**
 * The points of a segment from its start up to, but not including, its end. An arc becomes chords whose
 * corners lie on it and whose sagitta is at most `tolerance` mm.
 */
export function segmentPoints(s: Segment, tolerance: number): Point[] {
  if (s.kind === 'line') return [s.from];
  const n = chordCount(s.radius, s.sweep, tolerance);
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const out: Point[] = [s.from];
  for (let i = 1; i < n; i++) {
    const a = start + (s.sweep * i) / n;
    out.push({ x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) });
  }
  return out;
}

/**
 * The corners of a polygon that follows a ring within `tolerance` mm, corners on the curve.
 * @throws RangeError when the tolerance is not positive.
 */
export function flattenRing(r: Ring, { tolerance }: { readonly tolerance: number }): Point[] {
  if (!(tolerance > 0)) throw new RangeError(`flattenRing: tolerance ${tolerance} must be positive`);
  return ringSegments(r).flatMap((s) => segmentPoints(s, tolerance));
}
