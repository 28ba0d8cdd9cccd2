import { type Point, pointSegmentDistance, type Segment, segmentBounds } from '@haunch/geometry';
import type { Curve } from './merge-tracks.js';

/** How closely chords must follow a curve that a cutter of a radius runs along, mm. */
export type Fineness = (curve: Curve, radius: number) => number;

/** Chords keep within this of every curve that makes a wall, so that swept walls are true within 0.0006 mm. */
export const CHORD_TOLERANCE = 0.0003;
/** For paths whose edge touches no wall: rounds that clear what is to become chips. */
export const CLEARING_TOLERANCE = 0.01;
/** A path makes a wall when its edge comes this near to one, mm. */
const NEAR = 0.6;
/** Places along a curve that are asked, at most this far apart, mm. */
const STEP = 3;
const CELL = 16;
const cellKey = (i: number, j: number): number => (i + 500_000) * 1_000_003 + (j + 500_000);
/** Arcs longer than this many steps are followed finely without asking. */
const MOST = 5000;

/** All curves finely. */
export const allFine: Fineness = () => CHORD_TOLERANCE;

function places(c: Curve): Point[] {
  const length = c.kind === 'line' ? Math.hypot(c.b.x - c.a.x, c.b.y - c.a.y) : c.r * c.sweep;
  const n = Math.min(MOST, Math.max(2, Math.ceil(length / STEP)));
  return Array.from({ length: n + 1 }, (_, i): Point => {
    const t = i / n;
    if (c.kind === 'line') return { x: c.a.x + (c.b.x - c.a.x) * t, y: c.a.y + (c.b.y - c.a.y) * t };
    const a = c.start + c.sweep * t;
    return { x: c.centre.x + c.r * Math.cos(a), y: c.centre.y + c.r * Math.sin(a) };
  });
}

/**
 * Fine where a cutter's edge comes within 0.6 mm of a wanted wall or beyond it, coarse elsewhere. Only arcs profit:
 * straight ways are exact either way. `most` is the largest radius of all cutters.
 */
export function fineNear(walls: readonly Segment[], most: number): Fineness {
  const cells = new Map<number, Segment[]>();
  const reach = most + NEAR + STEP;
  for (const w of walls) {
    const b = segmentBounds(w);
    for (let i = Math.floor((b.minX - reach) / CELL); i <= Math.floor((b.maxX + reach) / CELL); i++)
      for (let j = Math.floor((b.minY - reach) / CELL); j <= Math.floor((b.maxY + reach) / CELL); j++) {
        const key = cellKey(i, j);
        const list = cells.get(key);
        if (list) list.push(w);
        else cells.set(key, [w]);
      }
  }
  return (curve, radius) => {
    if (curve.kind === 'line' || curve.r * curve.sweep > MOST * STEP) return CHORD_TOLERANCE;
    const step = Math.min(STEP, (curve.r * curve.sweep) / 2) / 2;
    const near = places(curve).some((p) =>
      (cells.get(cellKey(Math.floor(p.x / CELL), Math.floor(p.y / CELL))) ?? []).some(
        (w) => pointSegmentDistance(w, p) <= radius + NEAR + step,
      ),
    );
    return near ? CHORD_TOLERANCE : CLEARING_TOLERANCE;
  };
}
