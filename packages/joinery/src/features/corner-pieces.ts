import { distance, type LineSegment, type Point, pointAlong, type Segment } from '@haunch/geometry';
import { tangentAt } from '../meet.js';
import type { Course, Stretch } from './course.js';

/** What is drawn in a corner instead of the sharp corner: it travels with the corner. */
export type CornerForm = 'round relief' | 'square relief' | 'rounding' | 'chamfer';

/** A corner that is drawn with something in it. Stretches by number; mm. */
export interface CornerPiece {
  readonly form: CornerForm;
  /** The walls before and after it. */
  readonly before: number;
  readonly after: number;
  /** The stretches between them. */
  readonly between: readonly number[];
  /** Where the walls would meet. */
  readonly corner: Point;
  /** Its greatest extent. */
  readonly size: number;
}

/** What can be a corner piece. mm */
export interface CornerLimits {
  /** The greatest extent of a round relief. */
  readonly round: number;
  /** The greatest step of a square relief. */
  readonly square: number;
  /** The greatest length of a chamfer. */
  readonly chamfer: number;
}

/** Reliefs are no wider than the widest cutter for sheets usually is, mm. Common practice, no source. */
const WIDEST_CUTTER = 13;

/** Limits for a thickness, or for any where it is not known: a relief is narrower than the sheet that it serves. */
export const cornerLimits = (thickness: number | null, scale = 1): CornerLimits => ({
  round: Math.min(WIDEST_CUTTER * scale, thickness === null ? Infinity : 1.1 * thickness),
  square: Math.min(WIDEST_CUTTER * scale, thickness === null ? Infinity : 0.8 * thickness),
  chamfer: Math.min(8 * scale, thickness === null ? Infinity : 0.7 * thickness),
});

/** A relief bites at least this much into the material, mm, and strays at most this much into the air. */
const BITE = 0.1;
const STRAY = 0.03;
/** Corners whose walls stand more slanted than this (sine) hold no relief. */
const SLANTED = 0.34;
const SQUARE = 1e-3;
/** Strokes that bend the other way by less than this sine go straight on. */
const STRAIGHT_ON = 0.02;
/** The short wall of a square relief against the rest of the long one. */
const REST = 0.3;
/** The sine by which a run round a relief may bend to the other side: what polygons of splines leave. */
const BACKWARDS = 0.1;
/** The rounding at the mouth of a relief against its whole run. */
const MOUTH = 0.2;
/** A relief drawn as a polygon has at most this many sides. */
const MOST_SIDES = 48;

interface Frame {
  readonly ux: number;
  readonly uy: number;
}
const along = (l: LineSegment): Frame => {
  const d = distance(l.from, l.to);
  return { ux: (l.to.x - l.from.x) / d, uy: (l.to.y - l.from.y) / d };
};
const cross = (a: Frame, x: number, y: number): number => a.ux * y - a.uy * x;

/** Where the lines of two walls cross; the walls must not be parallel. */
function meeting(a: LineSegment, b: LineSegment): Point {
  const [d, e] = [along(a), along(b)];
  const t = ((b.from.x - a.from.x) * e.uy - (b.from.y - a.from.y) * e.ux) / (d.ux * e.uy - d.uy * e.ux);
  return { x: a.from.x + t * d.ux, y: a.from.y + t * d.uy };
}

/** How far `p` lies along the wall from its start. */
const reach = (wall: LineSegment, p: Point): number => {
  const d = along(wall);
  return (p.x - wall.from.x) * d.ux + (p.y - wall.from.y) * d.uy;
};

/** Points that describe a run: its corners and, of arcs, three points between. */
const pointsOf = (run: readonly Segment[]): Point[] =>
  run.flatMap((s) => [
    s.from,
    ...(s.kind === 'arc' ? [0.25, 0.5, 0.75].map((t) => pointAlong(s, t)) : []),
    s.to,
  ]);

/** The greatest distance of two points. */
function extentOf(points: readonly Point[]): number {
  let most = 0;
  for (const [i, p] of points.entries())
    for (let k = i + 1; k < points.length; k++) {
      const q = points[k]!;
      most = Math.max(most, (p.x - q.x) ** 2 + (p.y - q.y) ** 2);
    }
  return Math.sqrt(most);
}

/** A segment's directions where it starts and ends. */
function directions(s: Segment): readonly [Frame, Frame] {
  if (s.kind === 'line') return [along(s), along(s)];
  const tangent = (p: Point): Frame => {
    const side = Math.sign(s.sweep) / s.radius;
    return { ux: -side * (p.y - s.centre.y), uy: side * (p.x - s.centre.x) };
  };
  return [tangent(s.from), tangent(s.to)];
}

/** Whether a run goes round its air all the way, as round a cutter: but for a rounded mouth, nothing turns to the other side. */
function isPocket(run: readonly Segment[], air: number): boolean {
  const most = MOUTH * run.reduce((sum, s) => sum + distance(s.from, s.to), 0);
  const mouth = (s: Segment): boolean =>
    s.kind === 'arc' && s.sweep * air < 0 && distance(s.from, s.to) <= most;
  const first = mouth(run[0]!) ? 1 : 0;
  const inner = run.slice(first, mouth(run.at(-1)!) ? -1 : undefined);
  return inner.every((s, i) => {
    if (s.kind === 'arc' && s.sweep * air < 0) return false;
    const next = inner[i + 1];
    if (!next) return true;
    const [[, out], [into]] = [directions(s), directions(next)];
    return air * cross(out, into.ux, into.uy) > -BACKWARDS;
  });
}

/** The relief between two walls, if what is drawn between them is one. */
function relief(
  course: Course,
  stretches: readonly Stretch[],
  before: number,
  between: readonly number[],
  after: number,
  limits: CornerLimits,
): CornerPiece | null {
  const a = stretches[before]!.line!;
  const b = stretches[after]!.line!;
  const [d, e] = [along(a), along(b)];
  const turn = d.ux * e.uy - d.uy * e.ux;
  if (turn * course.air < SLANTED) return null;
  const corner = meeting(a, b);
  // The corner must lie beyond the first wall's start and before the second one's end.
  const [left, right] = [reach(a, corner), distance(b.from, b.to) - reach(b, corner)];
  if (left <= 0 || right <= 0) return null;
  const farthest = Math.max(limits.round, limits.square);
  if (distance(a.to, corner) > farthest || distance(b.from, corner) > farthest) return null;
  // Most candidates are round voids: the middle of their run stands in the air between the walls.
  if (between.length > 2) {
    const { line, arc } = stretches[between[between.length >> 1]!]!;
    const p = (line ?? arc!).from;
    const [x, y] = [p.x - corner.x, p.y - corner.y];
    if (Math.min(course.air * cross(d, x, y), course.air * cross(e, x, y)) > STRAY) return null;
  }
  const run = between.flatMap((k) => stretches[k]!.segments.map((i) => course.segments[i]!));
  if (!isPocket(run, course.air)) return null;
  const straight = run.every((s) => s.kind === 'line');
  const squareStep = straight && between.length === 2;
  const most = squareStep ? limits.square : limits.round;
  if (distance(a.to, corner) > most || distance(b.from, corner) > most) return null;
  let bite = 0;
  const points = pointsOf(run);
  for (const p of points) {
    const [x, y] = [p.x - corner.x, p.y - corner.y];
    const [inA, inB] = [course.air * cross(d, x, y), course.air * cross(e, x, y)];
    if (Math.min(inA, inB) > STRAY) return null;
    bite = Math.max(bite, -inA, -inB);
    if (Math.hypot(x, y) > 1.5 * most) return null;
  }
  if (bite < BITE) return null;
  const size = extentOf(points);
  if (size > 1.45 * most) return null;
  if (squareStep) {
    const [first, last] = between.map((k) => stretches[k]!.line!);
    const isSquare =
      Math.abs(Math.abs(cross(d, ...vector(first!))) - 1) < SQUARE &&
      Math.abs(Math.abs(cross(along(first!), ...vector(last!))) - 1) < SQUARE;
    if (!isSquare || Math.abs(turn) < 1 - SQUARE) return null;
    // One of the walls overshoots the corner: its own part beyond the step must be worth a wall.
    const [overA, overB] = [distance(a.to, corner), distance(b.from, corner)];
    const past = reach(a, a.to) > reach(a, corner);
    const [step, rest] = past ? [overA, left] : [overB, right];
    if (rest < REST * step) return null;
    // The step is no longer than the bottom is wide.
    if (step > 1.05 * (past ? overB : overA)) return null;
  } else if (straight && between.length < 4) return null;
  return {
    form: straight && squareStep ? 'square relief' : 'round relief',
    before,
    after,
    between,
    corner,
    size,
  };
}

const vector = (l: LineSegment): [number, number] => {
  const d = along(l);
  return [d.ux, d.uy];
};

/** A rounding that runs into both walls without a bend, any small arc in the corner, or a short chamfer. */
function rounding(
  course: Course,
  stretches: readonly Stretch[],
  before: number,
  mid: number,
  after: number,
  limits: CornerLimits,
): CornerPiece | null {
  const a = stretches[before]!.line!;
  const b = stretches[after]!.line!;
  const piece = stretches[mid]!;
  const [d, e] = [along(a), along(b)];
  const turn = d.ux * e.uy - d.uy * e.ux;
  if (Math.abs(turn) < SLANTED) return null;
  const corner = meeting(a, b);
  if (piece.arc) {
    const s = piece.arc;
    const smooth =
      tangentAt(segmentOf(course, stretches[before]!, 'last'), s, s.from) &&
      tangentAt(s, segmentOf(course, stretches[after]!, 'first'), s.to) &&
      Math.sign(s.sweep) === Math.sign(turn);
    // An arc small enough belongs to its corner however it is drawn.
    const size = distance(s.from, s.to);
    const small =
      distance(s.from, corner) <= limits.chamfer &&
      distance(s.to, corner) <= limits.chamfer &&
      reach(a, corner) >= stretches[before]!.length &&
      reach(b, corner) <= 0 &&
      Math.min(stretches[before]!.length, stretches[after]!.length) > size;
    if (Math.abs(s.sweep) > Math.PI + 0.01 || !(smooth || small)) return null;
    return { form: 'rounding', before, after, between: [mid], corner, size };
  }
  const c = piece.line!;
  const f = along(c);
  const [t1, t2] = [d.ux * f.uy - d.uy * f.ux, f.ux * e.uy - f.uy * e.ux];
  const slant =
    t1 * t2 > 0 && Math.min(Math.abs(t1), Math.abs(t2)) > SLANTED && Math.sign(t1) === Math.sign(turn);
  const small =
    piece.length <= limits.chamfer &&
    piece.length <= 0.7 * Math.min(stretches[before]!.length, stretches[after]!.length);
  if (!slant || !small || Math.max(Math.abs(t1), Math.abs(t2)) > 0.95) return null;
  return { form: 'chamfer', before, after, between: [mid], corner, size: piece.length };
}

/** A corner taken off in several strokes, each bending the way the corner does: a chamfer with soft ends, chords for an arc. */
function softened(
  course: Course,
  stretches: readonly Stretch[],
  before: number,
  between: readonly number[],
  after: number,
  limits: CornerLimits,
): CornerPiece | null {
  const [first, last] = [stretches[before]!, stretches[after]!];
  const [a, b] = [first.line!, last.line!];
  const [d, e] = [along(a), along(b)];
  const turn = cross(d, e.ux, e.uy);
  if (Math.abs(turn) < SLANTED) return null;
  const corner = meeting(a, b);
  if (distance(a.to, corner) > limits.chamfer || distance(b.from, corner) > limits.chamfer) return null;
  if (reach(a, corner) < first.length || reach(b, corner) > 0) return null;
  const run = between.flatMap((k) => stretches[k]!.segments.map((i) => course.segments[i]!));
  const size = distance(a.to, b.from);
  if (size > limits.chamfer || size > 0.7 * Math.min(first.length, last.length)) return null;
  const side = Math.sign(turn);
  const whole = [a, ...run, b];
  const allOneWay = whole.every((s, i) => {
    if (s.kind === 'arc' && s.sweep * side < 0) return false;
    const next = whole[i + 1];
    if (!next) return true;
    const [[, out], [into]] = [directions(s), directions(next)];
    return side * cross(out, into.ux, into.uy) > -STRAIGHT_ON && out.ux * into.ux + out.uy * into.uy > 0;
  });
  return allOneWay ? { form: 'chamfer', before, after, between, corner, size } : null;
}

const segmentOf = (course: Course, s: Stretch, which: 'first' | 'last'): Segment =>
  course.segments[which === 'first' ? s.segments[0]! : s.segments.at(-1)!]!;

/**
 * Corners with a relief, a rounding or a chamfer drawn in them. A relief leaves the air between its walls and
 * bites into the material, whether it is an arc, several, a polygon for one, or a square step along a wall; of
 * candidates that overlap, the one with square and longer walls is taken.
 */
export function findCornerPieces(
  course: Course,
  stretches: readonly Stretch[],
  limits: CornerLimits,
): CornerPiece[] {
  const n = stretches.length;
  const found: (CornerPiece & { readonly rank: readonly number[] })[] = [];
  const wall = (k: number): boolean => stretches[k]!.line !== null;
  const longest = 3.3 * limits.round;
  for (let a = 0; a < n && n >= 4; a++) {
    if (!wall(a)) continue;
    let length = 0;
    const between: number[] = [];
    for (let step = 1; step <= MOST_SIDES && step < n - 1; step++) {
      const mid = (a + step) % n;
      length += stretches[mid]!.length;
      if (length > longest && step > 1) break;
      between.push(mid);
      const b = (a + step + 1) % n;
      if (b === a) break;
      if (!wall(b)) continue;
      const piece =
        (length <= longest ? relief(course, stretches, a, [...between], b, limits) : null) ??
        (step === 1
          ? rounding(course, stretches, a, mid, b, limits)
          : softened(course, stretches, a, [...between], b, limits));
      if (piece === null) continue;
      const square = isSquareCorner(stretches[a]!.line!, stretches[b]!.line!) ? 0 : 1;
      found.push({
        ...piece,
        rank: [
          piece.form.endsWith('relief') ? 0 : 1,
          square,
          -(stretches[a]!.length + stretches[b]!.length),
          between.length,
          a,
        ],
      });
    }
  }
  found.sort((p, q) => {
    for (let i = 0; i < p.rank.length; i++) if (p.rank[i] !== q.rank[i]) return p.rank[i]! - q.rank[i]!;
    return p.after - q.after;
  });
  const inPiece = new Set<number>();
  const isWall = new Set<number>();
  const closed = { before: new Set<number>(), after: new Set<number>() };
  const taken: CornerPiece[] = [];
  for (const { rank: _, ...p } of found) {
    if (p.between.some((k) => inPiece.has(k) || isWall.has(k))) continue;
    if (inPiece.has(p.before) || inPiece.has(p.after)) continue;
    if (closed.before.has(p.before) || closed.after.has(p.after)) continue;
    for (const k of p.between) inPiece.add(k);
    isWall.add(p.before).add(p.after);
    closed.before.add(p.before);
    closed.after.add(p.after);
    taken.push(p);
  }
  return taken.sort((p, q) => p.before - q.before);
}

function isSquareCorner(a: LineSegment, b: LineSegment): boolean {
  const [d, e] = [along(a), along(b)];
  return Math.abs(d.ux * e.ux + d.uy * e.uy) < SQUARE;
}
