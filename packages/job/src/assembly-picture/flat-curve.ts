import {
  chordCount,
  type Point,
  type Polygon,
  type Ring,
  ringSegments,
  type Segment,
} from '@haunch/geometry';

/** How far a chord may leave its arc, mm, and at most as a share of its radius, so that small holes look round. */
const CHORD = 0.08;
const CHORD_OF_RADIUS = 0.03;
/** Two segments whose directions differ by less at their join are one smooth curve, radians. */
const SMOOTH_TURN = 0.05;
/** Corners lie on this grid, mm: a multiple of the clip kernel's own, so that they come back from it unchanged. */
const STEP = 2 ** -20;

const onStep = (p: Point): Point => ({ x: Math.round(p.x / STEP) * STEP, y: Math.round(p.y / STEP) * STEP });

/** A name for a corner; the same for the same corner before and after the clip kernel. */
export const cornerKey = (p: Point): string => `${Math.round(p.x / STEP)},${Math.round(p.y / STEP)}`;

/** A curve as a polygon, and which of its corners are not corners of the curve. (u, v), mm. */
export interface FlatCurve {
  readonly polygon: Polygon;
  /** Keys of the corners where the curve runs on smoothly. */
  readonly smooth: ReadonlySet<string>;
}

const headings = (s: Segment): readonly [number, number] => {
  if (s.kind === 'line') {
    const a = Math.atan2(s.to.y - s.from.y, s.to.x - s.from.x);
    return [a, a];
  }
  const quarter = (Math.sign(s.sweep) * Math.PI) / 2;
  const at = (p: Point) => Math.atan2(p.y - s.centre.y, p.x - s.centre.x) + quarter;
  return [at(s.from), at(s.to)];
};

const turn = (from: number, to: number): number =>
  Math.abs(Math.atan2(Math.sin(to - from), Math.cos(to - from)));

function pointsOf(s: Segment, coarse: number): Point[] {
  if (s.kind === 'line') return [s.from];
  const n = chordCount(s.radius, s.sweep, coarse * Math.min(CHORD, CHORD_OF_RADIUS * s.radius));
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  return Array.from({ length: n }, (_, i) => {
    const a = start + (s.sweep * i) / n;
    return i === 0
      ? s.from
      : { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
  });
}

/** A ring as a polygon within 0.08 mm, or `coarse` times that, corners on the curve. */
export function flatCurve(r: Ring, coarse = 1): FlatCurve {
  const segments = ringSegments(r);
  const smooth = new Set<string>();
  const polygon = segments.flatMap((s, i) => {
    const before = segments[(i + segments.length - 1) % segments.length]!;
    const points = pointsOf(s, coarse).map(onStep);
    points.forEach((p, k) => {
      if (k > 0 || turn(headings(before)[1], headings(s)[0]) < SMOOTH_TURN) smooth.add(cornerKey(p));
    });
    return points;
  });
  return { polygon, smooth };
}
