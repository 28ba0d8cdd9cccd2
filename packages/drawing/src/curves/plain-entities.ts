import {
  bulgeOfSegment,
  type Curve,
  distance,
  fitArcs,
  type Point,
  ringOfSegments,
  type Segment,
  snap,
  type Vertex,
} from '@haunch/geometry';
import type { EllipseEntity, Entity, EntityPlace, SplineEntity } from '../drawing.js';
import { ellipseAt, ellipseSlope } from './ellipse.js';
import { followPieces, isFullTurn, type RoundRun } from './follow-pieces.js';
import { piecesOfSpline } from './spline-pieces.js';

/** Lines and arcs follow curves this closely, mm. */
export const FOLLOW = 0.01;
/** What rounding the ends to the grid may add, mm. */
const ROUNDING = 1e-4;
/** Half-axes that differ by no more than this make a circle, mm: a tenth of the tolerance. */
const ROUND = FOLLOW / 10;
/** Curves beyond this are not followed, mm: doubles get too coarse there. */
const FARTHEST = 1e9;
/** Ends of a closed spline this near are one, mm. */
const JOIN = 0.01;
const FULL = 2 * Math.PI;

/** Places that may be looked at on one curve, for each of its pieces, and in one drawing. */
const PLACES = { curve: 40_000, piece: 2_000, drawing: 20_000_000 } as const;

/** Thrown inside where a curve takes too long; never leaves this file. */
class TooWinding extends Error {}

/** Entities of lines, arcs, circles and polylines, and the curves for which there are none. */
export interface PlainEntities {
  readonly entities: readonly Entity[];
  readonly notFollowed: readonly (EllipseEntity | SplineEntity)[];
}

/**
 * The same entities with each ellipse and spline replaced by a line, arc, circle or polyline that follows it: both
 * keep to within `FOLLOW` mm of each other. Places on the 0.0001 grid.
 */
export function plainEntities(entities: readonly Entity[]): PlainEntities {
  const notFollowed: (EllipseEntity | SplineEntity)[] = [];
  let left: number = PLACES.drawing;
  const shapes: KnownShapes = new Map();
  const out: Entity[] = [];
  for (const e of entities) {
    if (e.kind !== 'ellipse' && e.kind !== 'spline') {
      out.push(e);
      continue;
    }
    let own = PLACES.curve + (e.kind === 'spline' ? PLACES.piece * e.controls.length : 0);
    const spend = (places: number): void => {
      own -= places;
      left -= places;
      if (own < 0 || left < 0) throw new TooWinding();
    };
    try {
      const plain = e.kind === 'ellipse' ? plainEllipse(e, spend, shapes) : plainSpline(e, spend);
      if (plain === 'too far') notFollowed.push(e);
      else if (plain !== null) out.push(plain);
    } catch (error) {
      // RangeErrors are how the fit refuses numbers that overflow.
      if (!(error instanceof TooWinding) && !(error instanceof RangeError)) throw error;
      notFollowed.push(e);
    }
  }
  return { entities: out, notFollowed };
}

const placeOf = ({
  layer,
  handle,
  line,
  elevation,
  depth,
  colour,
  filled,
  hiddenBy,
}: EntityPlace): EntityPlace => ({
  layer,
  handle,
  line,
  elevation,
  depth,
  ...(colour === undefined ? {} : { colour }),
  ...(filled === undefined ? {} : { filled }),
  ...(hiddenBy === undefined ? {} : { hiddenBy }),
});

/** Segments of ellipses round 0 by their numbers: blocks repeat the same shape in many places. */
type KnownShapes = Map<string, readonly Segment[]>;

function plainEllipse(
  e: EllipseEntity,
  spend: (places: number) => void,
  shapes: KnownShapes,
): Entity | null | 'too far' {
  const size = Math.hypot(e.major.x, e.major.y);
  if (!(Math.abs(e.centre.x) + size <= FARTHEST && Math.abs(e.centre.y) + size <= FARTHEST)) return 'too far';
  const whole = e.end - e.start >= FULL - 1e-9;
  const around = { ...e, centre: { x: 0, y: 0 } };
  const within = FOLLOW - ROUNDING;
  if (size * (1 - e.ratio) <= ROUND) {
    const radius = (size * (1 + e.ratio)) / 2;
    if (whole) return circleEntity(e, { kind: 'circle', centre: e.centre, radius });
  }
  if (size * e.ratio <= within / 2) return flatEllipse(e, around, whole);
  const curve: Curve = {
    at: (s) => {
      spend(1);
      return ellipseAt(around, s);
    },
    tangent: (s) => {
      spend(1);
      return ellipseSlope(around, s);
    },
    // An ellipse only turns one way, at most half a turn for half a turn of the parameter.
    swing: (a, b) => {
      const [u, v] = [ellipseSlope(around, a), ellipseSlope(around, b)];
      const turned = Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
      return b - a >= Math.PI || turned < 0 ? Math.PI : turned;
    },
  };
  const key = `${e.major.x},${e.major.y},${e.ratio},${e.start},${e.end}`;
  const known = shapes.get(key);
  if (known !== undefined) {
    spend(known.length);
    return entityOfSegments(e, moved(known, e.centre), whole);
  }
  const stops = [e.start, ...quarters(e.start, e.end), e.end];
  const segments: Segment[] = [];
  for (let i = 0; i + 1 < stops.length; i++)
    segments.push(...fitArcs(curve, [stops[i]!, stops[i + 1]!], { tolerance: within }));
  shapes.set(key, segments);
  return entityOfSegments(e, moved(segments, e.centre), whole);
}

/** The vertices of an ellipse between two parameters, where its halves are alike. */
function quarters(from: number, to: number): number[] {
  const out: number[] = [];
  const q = Math.PI / 2;
  for (let k = Math.floor(from / q) + 1; k * q < to; k++)
    if (k * q - from > 1e-6 && to - k * q > 1e-6) out.push(k * q);
  return out;
}

/** An ellipse so thin that it is a line: there and, where it passes an end, back. */
function flatEllipse(e: EllipseEntity, around: EllipseEntity, whole: boolean): Entity | null {
  const stops = [e.start, ...quarters(e.start, e.end).filter((s) => Math.abs(Math.sin(s)) < 0.5), e.end];
  const places = stops.map((s) => ellipseAt(around, s));
  const lines = places.slice(1).map((to, i): Segment => ({ kind: 'line', from: places[i]!, to }));
  return entityOfSegments(e, moved(lines, e.centre), whole);
}

function plainSpline(e: SplineEntity, spend: (places: number) => void): Entity | null | 'too far' {
  if (!e.controls.every((p) => Math.abs(p.x) <= FARTHEST && Math.abs(p.y) <= FARTHEST)) return 'too far';
  spend(e.controls.length * (e.degree + 1));
  const { origin, pieces } = piecesOfSpline(e);
  const run = followPieces(pieces, FOLLOW - ROUNDING, spend);
  if ('kind' in run)
    return circleEntity(e, {
      ...run,
      centre: { x: run.centre.x + origin.x, y: run.centre.y + origin.y },
    });
  const segments = moved(run, origin);
  const [first, last] = [segments[0], segments.at(-1)];
  const gap = first === undefined || last === undefined ? Infinity : distance(first.from, last.to);
  return entityOfSegments(e, segments, gap <= (e.closed ? JOIN : ROUNDING) && segments.length > 1);
}

function moved(segments: readonly Segment[], by: Point): Segment[] {
  const at = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  return segments.map((s) =>
    s.kind === 'line'
      ? { ...s, from: at(s.from), to: at(s.to) }
      : { ...s, from: at(s.from), to: at(s.to), centre: at(s.centre) },
  );
}

const snapped = (p: Point): Point => ({ x: snap(p.x), y: snap(p.y) });
const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

function circleEntity(e: EntityPlace, { centre, radius }: RoundRun): Entity | null {
  if (snap(radius) === 0) return null;
  return { kind: 'circle', ...placeOf(e), centre: snapped(centre), radius: snap(radius) };
}

/** The simplest entity that a run of segments is; null where rounding leaves it no size. */
function entityOfSegments(e: EntityPlace, segments: readonly Segment[], closed: boolean): Entity | null {
  const place = placeOf(e);
  const [only] = segments;
  if (only === undefined) return null;
  if (segments.length === 1 && isFullTurn(only)) return circleEntity(e, { ...only, kind: 'circle' });
  const open: Vertex[] = [
    ...ringOfSegments([...segments, { kind: 'line', from: segments.at(-1)!.to, to: only.from }]).vertices,
  ];
  const vertices = open
    .map((v) => ({ ...snapped(v), bulge: v.bulge }))
    .filter((v, i, all) => i === all.length - 1 || !same(v, all[i + 1]!));
  if (vertices.length < 2) return null;
  if (closed || same(vertices[0]!, vertices.at(-1)!)) {
    const before = vertices.pop()!;
    if (vertices.length < 2 && vertices.every((v) => v.bulge === 0)) return null;
    // A step of the grid is taken up by the last segment; more than that stays a line.
    if (distance(before, vertices[0]!) > 2 * ROUNDING) vertices.push(before);
    return { kind: 'polyline', ...place, vertices, closed: true };
  }
  if (vertices.length > 2) return { kind: 'polyline', ...place, vertices, closed: false };
  const [a, b] = vertices as [Vertex, Vertex];
  if (a.bulge === 0) return { kind: 'line', ...place, from: snapped(a), to: snapped(b) };
  const [from, to] = a.bulge > 0 ? [snapped(a), snapped(b)] : [snapped(b), snapped(a)];
  const bulge = Math.abs(a.bulge);
  const arc = segments.length === 1 && only.kind === 'arc' ? only : null;
  if (arc === null || bulgeOfSegment(arc) !== a.bulge)
    return { kind: 'polyline', ...place, vertices, closed: false };
  return { kind: 'arc', ...place, from, to, bulge, centre: snapped(arc.centre), radius: snap(arc.radius) };
}
