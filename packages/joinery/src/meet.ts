import {
  type ArcSegment,
  carrierMeets,
  distance,
  type LineSegment,
  type Point,
  type Segment,
} from '@haunch/geometry';
import { SAME_PLACE } from './tolerances.js';

/** The angle between two neighbours in their common corner below which they are tangent, radians. */
const TANGENT = 0.02;

const movedPoint = (p: Point, by: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });

/** A segment moved by a vector, mm. */
const moved = <S extends Segment>(s: S, by: Point): S =>
  ({
    ...s,
    from: movedPoint(s.from, by),
    to: movedPoint(s.to, by),
    ...(s.kind === 'arc' ? { centre: movedPoint(s.centre, by) } : {}),
  }) as S;

/** The unit direction, either way, in which a segment passes through one of its points. */
function directionAt(s: Segment, p: Point): Point {
  const [a, b] = s.kind === 'line' ? [s.from, s.to] : [s.centre, p];
  const l = distance(a, b);
  const d = { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
  return s.kind === 'line' ? d : { x: -d.y, y: d.x };
}

/** Whether two neighbours run into each other without a bend in their common corner. */
export function tangentAt(a: Segment, b: Segment, corner: Point): boolean {
  const d = directionAt(a, corner);
  const e = directionAt(b, corner);
  return Math.abs(d.x * e.y - d.y * e.x) < TANGENT;
}

/** The point of a whole line that is nearest to `p`. */
function footOn(line: LineSegment, p: Point): Point {
  const d = directionAt(line, line.from);
  const t = (p.x - line.from.x) * d.x + (p.y - line.from.y) * d.y;
  return { x: line.from.x + t * d.x, y: line.from.y + t * d.y };
}

/** Where two tangent circles touch, if they still do: on the line of centres. */
function touchOfCircles(a: ArcSegment, b: ArcSegment): Point | undefined {
  const d = distance(a.centre, b.centre);
  const outside = Math.abs(d - (a.radius + b.radius)) <= SAME_PLACE;
  const inside = Math.abs(d - Math.abs(a.radius - b.radius)) <= SAME_PLACE;
  if (d === 0 || (!outside && !inside)) return undefined;
  const reach = outside || a.radius > b.radius ? a.radius : -a.radius;
  return {
    x: a.centre.x + ((b.centre.x - a.centre.x) / d) * reach,
    y: a.centre.y + ((b.centre.y - a.centre.y) / d) * reach,
  };
}

/** Where two neighbours that were tangent still touch, within what their coordinates leave open. */
function touch(a: Segment, b: Segment, corner: Point): Point | undefined {
  if (a.kind === 'arc' && b.kind === 'arc') return touchOfCircles(a, b);
  if (a.kind === 'arc') return touch(b, a, corner);
  if (b.kind === 'arc') {
    const foot = footOn(a, b.centre);
    return Math.abs(distance(foot, b.centre) - b.radius) <= SAME_PLACE ? foot : undefined;
  }
  // Collinear neighbours: the corner keeps its projection, if they are still one line.
  const p = footOn(a, corner);
  return distance(p, footOn(b, corner)) <= SAME_PLACE ? p : undefined;
}

/**
 * Where two neighbours that met in `corner` meet after they have moved by `byA` and `byB`: of several points
 * the one nearest to the old corner. Neighbours that were tangent stay so as long as they touch, and two
 * that moved alike take their corner along. Nothing where they no longer meet.
 */
export function meetAgain(a: Segment, byA: Point, b: Segment, byB: Point, corner: Point): Point | undefined {
  if (byA.x === byB.x && byA.y === byB.y) return movedPoint(corner, byA);
  const nowA = moved(a, byA);
  const nowB = moved(b, byB);
  if (tangentAt(a, b, corner)) {
    const p = touch(nowA, nowB, corner);
    if (p || (a.kind === 'line' && b.kind === 'line')) return p;
  }
  let best: Point | undefined;
  for (const p of carrierMeets(nowA, nowB))
    if (best === undefined || distance(p, corner) < distance(best, corner)) best = p;
  return best;
}
