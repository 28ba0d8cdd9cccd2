import { indexSegments } from './box-index.js';
import { cancelPieces, chainPieces, type Piece } from './chain-pieces.js';
import { offsetCandidates } from './offset-candidates.js';
import { ringOfLoop } from './offset-loop.js';
import { COINCIDE, NEARER, THIN } from './offset-tolerance.js';
import type { Point } from './point.js';
import { type Ring, ringSegments, type Segment } from './ring.js';
import { counterClockwise, ringArea, ringPerimeter } from './ring-area.js';
import { pointAlong } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { GRID } from './snap.js';
import { splitCurves } from './split-curves.js';

/**
 * The ring of a simple ring's area grown by `by` mm (`by` > 0) or shrunk (`by` < 0), true to its arcs: lines
 * stay lines, arcs stay concentric arcs, gaping corners get arcs round the corner, and corners that close
 * meet exactly. The way the input runs does not matter.
 *
 * Guaranteed: every point of the result is at |by| ± 0.000001 mm from the input; no ring crosses itself or
 * another; area lies on the left of each ring. Outer rings come first, counter-clockwise, the largest first.
 * Shrinking may give several, or none where nothing is left; a channel exactly 2·|by| wide encloses nothing
 * (see `offsetCentrelines` for its line). Growing gives one, and after it a clockwise ring for each hollow that
 * the grown area closes round. A segment keeps the tag of its source; arcs round corners have none.
 * Radii up to 10 m are meant; the promise weakens in proportion beyond 10 km.
 * @throws RangeError when `by` is not finite.
 */
export function offsetRing(r: Ring, { by }: { readonly by: number }): Ring[] {
  if (!Number.isFinite(by)) throw new RangeError(`offsetRing: by ${by} is not a finite length`);
  const source = counterClockwise(r);
  if (by === 0) return [source];
  const { loops, curves, joins } = chainedLoops(source, by);
  const rings: { ring: Ring; area: number }[] = [];
  for (const loop of loops) {
    const ring = ringOfLoop(loop, curves, curves.length - joins);
    const area = ringArea(ring);
    if (Math.abs(area) <= (THIN * ringPerimeter(ring)) / 2) continue;
    if (area > 0 || by > 0) rings.push({ ring, area });
  }
  return rings
    .sort(
      (a, b) =>
        Number(a.area < 0) - Number(b.area < 0) ||
        Math.abs(b.area) - Math.abs(a.area) ||
        a.ring.vertices[0]!.x - b.ring.vertices[0]!.x ||
        a.ring.vertices[0]!.y - b.ring.vertices[0]!.y,
    )
    .map(({ ring }) => ring);
}

/**
 * The open stretches at exactly |by| from two sides of a ring at once, where its inside (`by` < 0) or the
 * air outside (`by` > 0) is a channel exactly 2·|by| wide, within 0.0000001 mm: the single pass of a cutter in
 * a slot of its own width. These are what `offsetRing` leaves out. In the order of the ring; each carries the
 * tag of one of its walls.
 * @throws RangeError when `by` is not finite.
 */
export function offsetCentrelines(r: Ring, { by }: { readonly by: number }): Segment[] {
  if (!Number.isFinite(by)) throw new RangeError(`offsetCentrelines: by ${by} is not a finite length`);
  if (by === 0) return [];
  const source = counterClockwise(r);
  const { curves } = offsetCandidates(ringSegments(source), by);
  return cancelPieces(truePieces(source, curves, by)).cancelled.map((p) => p.segment);
}

/** Other distances to try, mm, all within the promise, where rounding leaves a loop open. */
const NUDGES = [0, 3e-8, -3e-8, 1e-7, -1e-7, 3e-7, -3e-7];

/** A loose end as long as this means that a crossing was missed, mm: a grid step. Shorter ones are strays. */
const OPEN = GRID;

/** The loops of the offset; at the least nudge of the distance that leaves no loop open. */
function chainedLoops(
  source: Ring,
  by: number,
): { loops: Piece[][]; curves: readonly Segment[]; joins: number } {
  const segments = ringSegments(source);
  let best: { loops: Piece[][]; curves: readonly Segment[]; joins: number; lost: number } | undefined;
  for (const nudge of NUDGES) {
    const { curves, joins } = offsetCandidates(segments, by + nudge);
    const { pieces } = cancelPieces(truePieces(source, curves, by + nudge));
    const { loops, lost } = chainPieces(pieces);
    if (!best || lost < best.lost) best = { loops, curves, joins, lost };
    if (best.lost < OPEN) break;
  }
  return best!;
}

/** The candidates split where they meet, without the pieces that come too near to the source. */
function truePieces(source: Ring, curves: readonly Segment[], by: number): Piece[] {
  const { stretches, points } = splitCurves(curves, COINCIDE);
  const tooNear = nearnessTo(source, Math.abs(by));
  const pieces: Piece[] = [];
  for (const { curve, start, end, from, to } of stretches) {
    const c = curves[curve]!;
    const middle = pointAlong(c, (start + end) / 2);
    if (tooNear(middle)) continue;
    const ends = { from: points[from]!, to: points[to]! };
    const segment = c.kind === 'line' ? { ...c, ...ends } : { ...c, ...ends, sweep: c.sweep * (end - start) };
    pieces.push({ curve, start, end, from, to, middle, segment });
  }
  return pieces;
}

/** Tells whether a point is nearer than `limit` to a ring. */
function nearnessTo(source: Ring, limit: number): (p: Point) => boolean {
  const segments = ringSegments(source);
  const index = indexSegments(segments);
  // Doubles resolve a distance to a circle to about 1e-16 of its radius.
  const radius = segments.reduce((most, s) => (s.kind === 'arc' ? Math.max(most, s.radius) : most), 0);
  const least = limit - NEARER - radius * 1e-15;
  let last = 0;
  return (p) => {
    if (segments[last] && pointSegmentDistance(segments[last]!, p) < least) return true;
    const box = { minX: p.x - limit, minY: p.y - limit, maxX: p.x + limit, maxY: p.y + limit };
    return index.search(box, (i) => {
      if (pointSegmentDistance(segments[i]!, p) >= least) return false;
      last = i;
      return true;
    });
  };
}
