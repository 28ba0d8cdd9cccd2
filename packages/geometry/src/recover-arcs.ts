import {
  bulgeThrough,
  type ChordRule,
  fittingBulges,
  isFlat,
  patternLength,
  SHARPEST,
  turnOf,
  UNEVEN,
} from './chord-run.js';
import { mergeCollinear, mergeConcentric } from './merge-runs.js';
import { distance, type Point } from './point.js';
import {
  type ArcSegment,
  type LineSegment,
  type Ring,
  ringOfSegments,
  ringSegments,
  type Segment,
  segmentOfBulge,
} from './ring.js';
import { endDirection, startDirection } from './segment-course.js';

/** What counts as an arc that was drawn as chords. */
export interface ArcRecovery {
  /** How far a corner may be from the arc that takes its place, mm. */
  readonly tolerance: number;
  /** The fewest chords that are taken for an arc, 8 if not given; a polygon of fewer sides stays one. */
  readonly leastChords?: number;
  /** The most that an arc may stand off its chords, mm, 0.5 if not given: large polygons are meant (common
   * practice, no source). */
  readonly sagitta?: number;
}

/** A share of the tolerance is kept for merging neighbours. */
const FOR_MERGING = 1 / 8;

/** A run is ended where a much finer fit ends, if that is almost as long: there another curve begins. */
const FINER = 1 / 8;

/** Corners this near to a line are no corners, mm: rounding. Seen as a share of the tolerance as well. */
const NO_CORNER = 1e-6;

/**
 * Segments in which each run of chords that came from one arc is that arc again, and lines in line and
 * neighbouring arcs of one circle are one. The segments must follow each other; where the last ends in the first,
 * the chain is closed and may start elsewhere in the result. Chords of an arc are told by their pattern: at least
 * `leastChords`, all turning to one side by at most an eighth of a turn, the longest at most four times the shortest
 * (the first and last may be shorter), of one tag; a closed run becomes a full turn.
 *
 * Guaranteed: no corner of the input is further than `tolerance` from the result, and no arc stands off a chord
 * by more than `sagitta` and the tolerance. Ends of runs stay where they are; of the arcs that fit, one that is
 * tangent to its neighbours is taken. Takes time of order n log n.
 * @throws RangeError when the tolerance or the sagitta is not positive, or fewer than 3 chords are asked for.
 */
export function recoverArcs(
  segments: readonly Segment[],
  { tolerance, leastChords = 8, sagitta = 0.5 }: ArcRecovery,
): Segment[] {
  if (!(tolerance > 0) || !(sagitta > 0))
    throw new RangeError(`recoverArcs: tolerance ${tolerance} and sagitta ${sagitta} must be positive`);
  if (!(leastChords >= 3)) throw new RangeError(`recoverArcs: ${leastChords} chords do not tell an arc`);
  const rule = { tolerance: tolerance * (1 - FOR_MERGING), sagitta };
  const fine = mergeCollinear(segments, { tolerance: Math.min(NO_CORNER, tolerance / 100) });
  const circle = wholeTurn(fine, rule, leastChords);
  if (circle) return [circle];
  let found = recovered(fine, rule, leastChords);
  if (isClosed(fine)) {
    // Begin where a run ends, so that none is cut in two by the start.
    const start = breakOf(fine) ?? found.firstEnd;
    if (start > 0) found = recovered([...fine.slice(start), ...fine.slice(0, start)], rule, leastChords);
  }
  return mergeConcentric(mergeCollinear(found.segments, { tolerance }), tolerance * FOR_MERGING);
}

/**
 * A ring with its arcs recovered from chords; see `recoverArcs`. It may start at another corner.
 * @throws RangeError as `recoverArcs` does.
 */
export const recoverRing = (r: Ring, recovery: ArcRecovery): Ring =>
  ringOfSegments(recoverArcs(ringSegments(r), recovery));

const isClosed = (segments: readonly Segment[]): boolean => {
  const first = segments[0];
  const last = segments[segments.length - 1];
  return (
    first !== undefined && last !== undefined && first.from.x === last.to.x && first.from.y === last.to.y
  );
};

/** A place in a closed chain that is in no run whatever: beside an arc, at a sharp corner or a change of tag. */
function breakOf(segments: readonly Segment[]): number | undefined {
  const n = segments.length;
  for (let i = 0; i < n; i++) {
    const s = segments[i]!;
    const next = segments[(i + 1) % n]!;
    if (s.kind === 'arc' || next.kind === 'arc') return (i + 1) % n;
    if (patternLength([s, next], 0, 2, 0) < 2) return (i + 1) % n;
  }
  return undefined;
}

/** Walks a chain and takes the longest run at each place; `firstEnd` is where the first ended. */
function recovered(
  segments: readonly Segment[],
  rule: ChordRule,
  leastChords: number,
): { readonly segments: Segment[]; readonly firstEnd: number } {
  const out: Segment[] = [];
  // For each segment of the result, the chords that it stands for.
  const runs: { readonly at: number; readonly first: number; readonly count: number }[] = [];
  let firstEnd = 0;
  const lineEnd = endsOfLines(segments);
  for (let i = 0; i < segments.length; ) {
    const count = runLength(segments, i, lineEnd[i]!, rule, leastChords);
    if (count === 0) {
      out.push(segments[i]!);
      i++;
      continue;
    }
    if (firstEnd === 0) firstEnd = i + count;
    runs.push({ at: out.length, first: i, count });
    out.push({ ...segments[i]!, to: segments[i + count - 1]!.to } as LineSegment);
    i += count;
  }
  for (const { at, first, count } of runs)
    out[at] = arcOfRun(segments as readonly LineSegment[], first, count, rule, out[at - 1], out[at + 1]);
  return { segments: out, firstEnd };
}

/** For each segment the number after the last of the lines that follow from it without a break; its own for arcs. */
function endsOfLines(segments: readonly Segment[]): number[] {
  const ends = new Array<number>(segments.length);
  for (let i = segments.length - 1; i >= 0; i--) {
    const s = segments[i]!;
    const next = segments[i + 1];
    const goesOn = next?.kind === 'line' && next.from.x === s.to.x && next.from.y === s.to.y;
    ends[i] = s.kind === 'arc' ? i : goesOn ? ends[i + 1]! : i + 1;
  }
  return ends;
}

/** How many segments from one on are chords of one arc; 0 for too few. Doubles, then halves the step. */
function runLength(
  segments: readonly Segment[],
  first: number,
  end: number,
  rule: ChordRule,
  leastChords: number,
): number {
  const lines = segments as readonly LineSegment[];
  const fits = (count: number, r: ChordRule): boolean => {
    if (first + count > end || patternLength(lines, first, first + count, rule.tolerance) < count)
      return false;
    const { least, most } = fittingBulges(lines, first, count, r);
    return least <= most;
  };
  const longest = (r: ChordRule): number => {
    if (!fits(leastChords, r)) return 0;
    let good = leastChords;
    let step = leastChords;
    while (fits(good + step, r)) {
      good += step;
      step *= 2;
    }
    for (step = Math.floor(step / 2); step >= 1; step = Math.floor(step / 2))
      if (fits(good + step, r)) good += step;
    return good;
  };
  const count = longest(rule);
  if (count === 0) return 0;
  // What is as good as a line is left to be one.
  if (height(lines, first, count) <= 2 * rule.tolerance) return 0;
  // An end that only just fits may have run on into the next curve; one of a noisy arc fits well.
  if (fits(count, { ...rule, tolerance: rule.tolerance / 2 })) return count;
  const finer = longest({ ...rule, tolerance: rule.tolerance * FINER });
  return finer > 0 && finer >= count - Math.max(2, count / 10) ? finer : count;
}

/** How far the corner in the middle of a run is from the chord of the whole. */
function height(lines: readonly LineSegment[], first: number, count: number): number {
  const a = lines[first]!.from;
  const b = lines[first + count - 1]!.to;
  const p = lines[first + Math.floor(count / 2)]!.from;
  const chord = distance(a, b);
  return Math.abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / chord;
}

/** Directions are no nearer to each other than this to be called tangent, radians. */
const TANGENT = 0.05;

/** The arc of a run: tangent to its neighbours where that fits, otherwise through the corners in its middle. */
function arcOfRun(
  lines: readonly LineSegment[],
  first: number,
  count: number,
  rule: ChordRule,
  before: Segment | undefined,
  after: Segment | undefined,
): Segment {
  const { least, most } = fittingBulges(lines, first, count, rule);
  const a = lines[first]!.from;
  const b = lines[first + count - 1]!.to;
  let sum = 0;
  const corners = Math.max(1, Math.floor(count / 2));
  for (let k = 0; k < corners; k++)
    sum += bulgeThrough(a, lines[first + Math.floor((count - corners) / 2) + k]!.to, b);
  const middle = Math.min(most, Math.max(least, sum / corners));
  const arc = segmentOfBulge(a, b, middle, lines[first]!.tag);
  if (arc.kind === 'line') return arc;
  const chord = { x: b.x - a.x, y: b.y - a.y };
  // An arc leaves and reaches its chord by half of its sweep.
  const tangents: number[] = [];
  const offer = (neighbour: Point, own: Point, sign: 1 | -1): void => {
    if (Math.abs(angle(neighbour, own)) > TANGENT) return;
    const bulge = Math.tan((sign * angle(neighbour, chord)) / 2);
    if (bulge >= least && bulge <= most) tangents.push(bulge);
  };
  if (before && before.to.x === a.x && before.to.y === a.y)
    offer(endDirection(before), startDirection(arc), 1);
  if (after && after.from.x === b.x && after.from.y === b.y)
    offer(startDirection(after), endDirection(arc), -1);
  if (tangents.length === 0) return arc;
  return segmentOfBulge(a, b, tangents.reduce((s, t) => s + t, 0) / tangents.length, arc.tag);
}

const angle = (a: Point, b: Point): number => Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);

/** The full turn of a closed chain of chords of one circle; undefined for any other chain. */
function wholeTurn(
  segments: readonly Segment[],
  { tolerance, sagitta }: ChordRule,
  leastChords: number,
): ArcSegment | undefined {
  const n = segments.length;
  if (n < leastChords || !isClosed(segments) || segments.some((s) => s.kind === 'arc')) return undefined;
  const lines = segments as readonly LineSegment[];
  const lengths = lines.map((l) => distance(l.from, l.to)).sort((p, q) => p - q);
  // One chord, where the drawing started, may be short.
  if (lengths[n - 1]! > UNEVEN * lengths[1]!) return undefined;
  const turns = lines.map((l, i) => turnOf(l, lines[(i + 1) % n]!));
  const side = Math.sign(turns.reduce((s, t) => s + t, 0));
  for (const [i, turn] of turns.entries()) {
    if (Math.abs(turn) > SHARPEST) return undefined;
    if (turn * side <= 0 && !isFlat(lines[i]!, lines[(i + 1) % n]!, turn, tolerance)) return undefined;
  }
  if (lines.some((l) => l.tag !== lines[0]!.tag)) return undefined;
  if (Math.abs(turns.reduce((s, t) => s + t, 0)) > 2 * Math.PI + 0.1) return undefined;
  const circle = circleOf(lines.map((l) => l.from));
  if (!circle) return undefined;
  const { centre, radius } = circle;
  if (lines.some((l) => Math.abs(distance(l.from, centre) - radius) > tolerance)) return undefined;
  if (radius - Math.sqrt(Math.max(0, radius * radius - lengths[n - 1]! ** 2 / 4)) > sagitta) return undefined;
  const k = radius / distance(lines[0]!.from, centre);
  const from = {
    x: centre.x + (lines[0]!.from.x - centre.x) * k,
    y: centre.y + (lines[0]!.from.y - centre.y) * k,
  };
  const tag = lines[0]!.tag;
  return {
    kind: 'arc',
    from,
    to: from,
    centre,
    radius,
    sweep: side * 2 * Math.PI,
    ...(tag === undefined ? {} : { tag }),
  };
}

/** The circle nearest to points by least squares of |P − C|² − r² (Kåsa, IEEE Trans. IM 25, 1976; from memory). */
function circleOf(points: readonly Point[]): { centre: Point; radius: number } | undefined {
  const n = points.length;
  const mx = points.reduce((s, p) => s + p.x, 0) / n;
  const my = points.reduce((s, p) => s + p.y, 0) / n;
  let [xx, xy, yy, xz, yz, zz] = [0, 0, 0, 0, 0, 0];
  for (const p of points) {
    const x = p.x - mx;
    const y = p.y - my;
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
    zz += z;
  }
  const det = xx * yy - xy * xy;
  if (!(det > 0)) return undefined;
  const cx = (xz * yy - yz * xy) / det / 2;
  const cy = (yz * xx - xz * xy) / det / 2;
  return { centre: { x: mx + cx, y: my + cy }, radius: Math.sqrt(zz / n + cx * cx + cy * cy) };
}
