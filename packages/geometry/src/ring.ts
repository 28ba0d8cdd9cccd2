import { distance, type Point } from './point.js';
import { snap } from './snap.js';

/**
 * A corner of a ring and the segment that leaves it. `bulge` is tan(sweep/4) of that segment as in the
 * DXF reference: 0 a straight line, positive an arc turning counter-clockwise, ±1 a half circle.
 * `tag` is a name that travels with the segment through transforms, offsets and reliefs.
 */
export interface Vertex extends Point {
  readonly bulge: number;
  readonly tag?: string;
}

/** A closed curve of lines and arcs; the last vertex's segment returns to the first. mm. */
export interface Ring {
  readonly vertices: readonly Vertex[];
}

/** An outer ring (counter-clockwise) with holes (clockwise). */
export interface Region {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

/** A straight stretch of a curve. mm. */
export interface LineSegment {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
  readonly tag?: string;
}

/** A circular stretch of a curve; `sweep` in radians, positive counter-clockwise, |sweep| ≤ 2π. mm. */
export interface ArcSegment {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly radius: number;
  readonly sweep: number;
  readonly tag?: string;
}

/** A straight or circular stretch of a curve, mm. */
export type Segment = LineSegment | ArcSegment;

/**
 * Builds a ring from its vertices.
 * @throws RangeError for fewer than two vertices (two are enough for two arcs) or a number that is not finite.
 */
export function ring(vertices: readonly Vertex[]): Ring {
  if (vertices.length < 2) throw new RangeError(`ring: ${vertices.length} vertices enclose nothing`);
  for (const v of vertices)
    if (!Number.isFinite(v.x) || !Number.isFinite(v.y) || !Number.isFinite(v.bulge))
      throw new RangeError(`ring: vertex (${v.x}, ${v.y}, bulge ${v.bulge}) is not finite`);
  return { vertices };
}

/** A ring of straight lines through the given corners, mm. */
export const polygonRing = (corners: readonly Point[]): Ring =>
  ring(corners.map(({ x, y }) => ({ x, y, bulge: 0 })));

/** An axis-parallel rectangle, counter-clockwise from its lower left corner, mm. */
export const rectangleRing = (x0: number, y0: number, x1: number, y1: number): Ring =>
  polygonRing([
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ]);

/** A circle as two half circles, counter-clockwise, mm. */
export const circleRing = (centre: Point, radius: number): Ring =>
  ring([
    { x: centre.x + radius, y: centre.y, bulge: 1 },
    { x: centre.x - radius, y: centre.y, bulge: 1 },
  ]);

const withTag = (tag: string | undefined) => (tag === undefined ? {} : { tag });

/**
 * An arc that leaves its chord by no more than half of this is a line, mm: a thousandth of the grid. Its
 * radius would be beyond what doubles can place.
 */
const STRAIGHT = 2e-7;

/**
 * The segment between two points for a bulge. Centre = mid-point + left normal · c(1 − b²)/(4b),
 * radius = c(1 + b²)/(4|b|) with c the chord (DXF reference; reference value G5).
 * An arc less than 0.0000001 mm high is given as a line.
 */
export function segmentOfBulge(from: Point, to: Point, bulge: number, tag?: string): Segment {
  const chord = distance(from, to);
  const a: Point = { x: from.x, y: from.y };
  const b: Point = { x: to.x, y: to.y };
  if (Math.abs(bulge) * chord <= STRAIGHT) return { kind: 'line', from: a, to: b, ...withTag(tag) };
  const k = (1 - bulge * bulge) / (4 * bulge);
  return {
    kind: 'arc',
    from: a,
    to: b,
    centre: { x: (a.x + b.x) / 2 - (b.y - a.y) * k, y: (a.y + b.y) / 2 + (b.x - a.x) * k },
    radius: (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
    sweep: 4 * Math.atan(bulge),
    ...withTag(tag),
  };
}

/** The bulge of a segment: 0 for a line, tan(sweep/4) for an arc. */
export const bulgeOfSegment = (s: Segment): number => (s.kind === 'line' ? 0 : Math.tan(s.sweep / 4));

/**
 * The sweep in radians from one point to another round a centre: in (0, 2π] counter-clockwise, [−2π, 0)
 * clockwise; equal ends give a full turn.
 */
export function sweepAround(centre: Point, from: Point, to: Point, turn: 'cw' | 'ccw'): number {
  const a = Math.atan2(from.y - centre.y, from.x - centre.x);
  const b = Math.atan2(to.y - centre.y, to.x - centre.x);
  const full = 2 * Math.PI;
  const ccw = (((b - a) % full) + full) % full;
  if (turn === 'ccw') return ccw < 1e-12 ? full : ccw;
  return ccw < 1e-12 ? -full : ccw - full;
}

/** All segments of a ring in order; a segment of no length is left out. */
export function ringSegments(r: Ring): Segment[] {
  const out: Segment[] = [];
  const n = r.vertices.length;
  for (let i = 0; i < n; i++) {
    const v = r.vertices[i]!;
    const w = r.vertices[(i + 1) % n]!;
    if (v.x === w.x && v.y === w.y) continue;
    out.push(segmentOfBulge(v, w, v.bulge, v.tag));
  }
  return out;
}

/** Beyond this sweep a bulge loses its digits, and at a full turn there is none, radians. */
const WIDE = 1.9 * Math.PI;

/**
 * The ring that runs through the given segments, which must follow each other. An arc of nearly a full turn or
 * a full one, which no bulge can hold, becomes two.
 */
export const ringOfSegments = (segments: readonly Segment[]): Ring =>
  ring(
    segments.flatMap((s): Vertex[] => {
      const { x, y } = s.from;
      if (s.kind === 'line' || Math.abs(s.sweep) < WIDE)
        return [{ x, y, bulge: bulgeOfSegment(s), ...withTag(s.tag) }];
      const bulge = Math.tan(s.sweep / 8);
      const c = Math.cos(s.sweep / 2);
      const d = Math.sin(s.sweep / 2);
      const [rx, ry] = [x - s.centre.x, y - s.centre.y];
      const half = { x: s.centre.x + rx * c - ry * d, y: s.centre.y + rx * d + ry * c };
      return [
        { x, y, bulge, ...withTag(s.tag) },
        { ...half, bulge, ...withTag(s.tag) },
      ];
    }),
  );

/** The same curve walked the other way; tags stay with their segments. */
export function reverseRing(r: Ring): Ring {
  const n = r.vertices.length;
  const out: Vertex[] = [];
  for (let i = n - 1; i >= 0; i--) {
    const at = r.vertices[(i + 1) % n]!;
    const segment = r.vertices[i]!;
    out.push({ x: at.x, y: at.y, bulge: segment.bulge === 0 ? 0 : -segment.bulge, ...withTag(segment.tag) });
  }
  return { vertices: out };
}

/** Every coordinate on the 0.0001 mm grid; bulges as they are. */
export const snapRing = (r: Ring): Ring => ({
  vertices: r.vertices.map((v) => ({ ...v, x: snap(v.x), y: snap(v.y) })),
});
