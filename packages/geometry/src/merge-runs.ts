import { distance, type Point } from './point.js';
import { type ArcSegment, type LineSegment, type Segment, segmentOfBulge } from './ring.js';
import { arcHolds } from './segment-course.js';

/**
 * Neighbouring lines in line become one line, and neighbouring arcs round one centre one arc, where every
 * corner that goes is within `tolerance` mm of what stands for it. Only segments of one tag are merged.
 */
export function mergeRuns(segments: readonly Segment[], tolerance: number): Segment[] {
  return mergeConcentric(mergeCollinear(segments, { tolerance }), tolerance);
}

/**
 * Runs of lines that lie in line become one line each: no corner that goes is further than `tolerance` mm from
 * the line that stands for its run, and every run goes forward all the way. Only neighbours of one tag are
 * merged; the first and the last point stay. Takes time in proportion to the number of segments.
 * @throws RangeError when the tolerance is not positive.
 */
export function mergeCollinear(
  segments: readonly Segment[],
  { tolerance }: { readonly tolerance: number },
): Segment[] {
  if (!(tolerance > 0)) throw new RangeError(`mergeCollinear: tolerance ${tolerance} must be positive`);
  const out: Segment[] = [];
  let run: { line: LineSegment; cone: Cone | undefined } | undefined;
  for (const s of segments) {
    if (s.kind === 'line' && run && run.line.tag === s.tag && meets(run.line, s)) {
      const cone = narrowed(run.cone, run.line.from, run.line.to, tolerance);
      if (goesOn(run.line, s, cone)) {
        run = { line: { ...run.line, to: s.to }, cone };
        out[out.length - 1] = run.line;
        continue;
      }
    }
    run = s.kind === 'line' ? { line: s, cone: undefined } : undefined;
    out.push(s);
  }
  return out;
}

const meets = (a: Segment, b: Segment): boolean => a.to.x === b.from.x && a.to.y === b.from.y;

/**
 * The directions from a point in which a line passes all corners so far within the tolerance (Sklansky and
 * Gonzalez, Pattern Recognition 12, 1980; from memory): `least` to `most`, radians round `middle`.
 */
interface Cone {
  readonly middle: number;
  readonly least: number;
  readonly most: number;
}

function narrowed(cone: Cone | undefined, from: Point, corner: Point, tolerance: number): Cone | undefined {
  const d = distance(from, corner);
  // A corner that near is passed in any direction.
  if (d <= tolerance) return cone;
  const angle = Math.atan2(corner.y - from.y, corner.x - from.x);
  const middle = cone?.middle ?? angle;
  const at = turned(angle - middle);
  const half = Math.asin(tolerance / d);
  return {
    middle,
    least: Math.max(cone?.least ?? -Infinity, at - half),
    most: Math.min(cone?.most ?? Infinity, at + half),
  };
}

function goesOn(line: LineSegment, s: LineSegment, cone: Cone | undefined): boolean {
  const ahead =
    (s.to.x - s.from.x) * (line.to.x - line.from.x) + (s.to.y - s.from.y) * (line.to.y - line.from.y);
  if (!(ahead > 0)) return false;
  if (!cone) return true;
  const at = turned(Math.atan2(s.to.y - line.from.y, s.to.x - line.from.x) - cone.middle);
  return at >= cone.least && at <= cone.most;
}

const turned = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

/** Neighbouring arcs round one centre become one arc of up to a full turn less a little. */
export function mergeConcentric(segments: readonly Segment[], tolerance: number): Segment[] {
  const out: Segment[] = [];
  // How far what the last arc stands for may be from it.
  let off = 0;
  for (const s of segments) {
    const last = out[out.length - 1];
    const both = last?.kind === 'arc' && s.kind === 'arc' ? mergedArcs(last, s, tolerance - off) : undefined;
    if (both) {
      out[out.length - 1] = both.arc;
      off += both.off;
    } else {
      out.push(s);
      off = 0;
    }
  }
  return out;
}

/** The one arc for two that follow each other, and how far they are off it, where within `tolerance`. */
function mergedArcs(
  a: ArcSegment,
  b: ArcSegment,
  tolerance: number,
): { readonly arc: ArcSegment; readonly off: number } | undefined {
  if (a.tag !== b.tag || a.sweep * b.sweep <= 0 || !meets(a, b)) return undefined;
  const sweep = a.sweep + b.sweep;
  if (Math.abs(sweep) > MOST_SWEEP) return undefined;
  const arc = segmentOfBulge(a.from, b.to, Math.tan(sweep / 4), a.tag);
  if (arc.kind === 'line') return undefined;
  const off = Math.max(offCircle(a, arc), offCircle(b, arc));
  return off <= tolerance ? { arc, off } : undefined;
}

/** How far an arc leaves the circle of another: at an end, or where it crosses the line through both centres. */
function offCircle(s: ArcSegment, circle: ArcSegment): number {
  const off = (p: Point): number => Math.abs(distance(p, circle.centre) - circle.radius);
  let most = Math.max(off(s.from), off(s.to));
  const d = distance(s.centre, circle.centre);
  if (d === 0) return Math.max(most, Math.abs(s.radius - circle.radius));
  for (const k of [s.radius / d, -s.radius / d]) {
    const p = {
      x: s.centre.x + (circle.centre.x - s.centre.x) * k,
      y: s.centre.y + (circle.centre.y - s.centre.y) * k,
    };
    if (arcHolds(s, p.x, p.y)) most = Math.max(most, off(p));
  }
  return most;
}

/** Beyond this a bulge loses its digits, radians. */
const MOST_SWEEP = 1.9 * Math.PI;
