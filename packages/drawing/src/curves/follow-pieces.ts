import {
  type ArcSegment,
  type Curve,
  distance,
  fitArcs,
  mergeCollinear,
  type Point,
  type Segment,
  segmentOfBulge,
} from '@haunch/geometry';
import { between } from './bernstein.js';
import { nearCircle, nearLine } from './near-shape.js';
import { type BezierPiece, pieceAt, pieceSlope } from './spline-pieces.js';

/** Pieces that leave a line by no more than this are straight, mm: the step of the grid. */
const STRAIGHT = 1e-4;
/** A straight piece swings by no more than this, radians. */
const STRAIGHT_SWING = 2e-4;
/** Directions that differ by more than this where two pieces meet make a corner, radians. */
const CORNER = 1e-3;
/** A run is an arc where it has its direction at both ends to this, radians. */
const TANGENT = 1e-3;
/** Shorter arcs than this are left to biarcs, radians. */
const LEAST_SWEEP = Math.PI / 12;
/** Arcs with a larger radius are not looked for, mm. */
const LARGEST_RADIUS = 1e5;
const FULL = 2 * Math.PI;

/** Stands for the way round a whole circle. */
export interface RoundRun {
  readonly kind: 'circle';
  readonly centre: Point;
  readonly radius: number;
}

/**
 * Lines and arcs that follow pieces, which go on from each other, within `within` mm, or one circle where they go
 * all the way round one. Corners stay corners. Between them straight runs become lines; runs on a circle become
 * arcs, both proved by Bernstein coefficients; the rest pairs of arcs (`fitArcs`). `spend` is called for each place
 * that is looked at and may throw to give up.
 */
export function followPieces(
  all: readonly BezierPiece[],
  within: number,
  spend: (places: number) => void,
): readonly Segment[] | RoundRun {
  const pieces = all.filter(hasSize);
  if (pieces.length === 0) return [];
  const near = within - STRAIGHT;
  const whole = wholeCircle(pieces, near);
  if (whole !== null) return whole;
  const out: Segment[] = [];
  let open: BezierPiece[] = [];
  const close = (): void => {
    if (open.length > 0) out.push(...fitRun(open, near, spend));
    open = [];
  };
  for (let i = 0; i < pieces.length; ) {
    spend(8);
    const { length, segment } = longestShape(pieces, i, near, spend);
    if (segment !== null) {
      close();
      out.push(segment);
      i += length;
    } else {
      open.push(pieces[i]!);
      i++;
      if (i < pieces.length && isCorner(pieces[i - 1]!, pieces[i]!)) close();
    }
  }
  close();
  return mergeCollinear(joined(out), { tolerance: STRAIGHT });
}

/** Ends that are computed from both sides made one. */
function joined(segments: readonly Segment[]): Segment[] {
  return segments.map((s, i) => (i === 0 ? s : { ...s, from: segments[i - 1]!.to }));
}

const hasSize = (p: BezierPiece): boolean => p.dx.some((v, i) => Math.hypot(v, p.dy[i]!) > 1e-9);

const start = (p: BezierPiece): Point => pieceAt(p, 0);
const end = (p: BezierPiece): Point => pieceAt(p, 1);

/** The direction in which a piece begins or ends: that of the first slope coefficient that has a length. */
function direction(p: BezierPiece, atEnd: boolean): Point | null {
  const n = p.dx.length;
  for (let k = 0; k < n; k++) {
    const i = atEnd ? n - 1 - k : k;
    const l = Math.hypot(p.dx[i]!, p.dy[i]!);
    if (l > 1e-12) return { x: p.dx[i]! / l, y: p.dy[i]! / l };
  }
  return null;
}

const angle = (a: Point, b: Point): number =>
  Math.abs(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y));

function isCorner(before: BezierPiece, after: BezierPiece): boolean {
  const [a, b] = [direction(before, true), direction(after, false)];
  return a === null || b === null || angle(a, b) > CORNER;
}

/** The longest run from piece i that is one line or one arc, or that none is. */
function longestShape(
  pieces: readonly BezierPiece[],
  i: number,
  within: number,
  spend: (places: number) => void,
): { readonly length: number; readonly segment: Segment | null } {
  let best: { length: number; segment: Segment | null } = { length: 0, segment: null };
  // Twice as far each time, then by half as much where that failed: work in proportion to the run found.
  let step = 1;
  let length = 1;
  for (let growing = true; ; ) {
    if (i + length <= pieces.length && best.length < length) {
      const run = pieces.slice(i, i + length);
      spend(4 * length);
      const segment = lineOf(run) ?? arcOf(run, within);
      if (segment !== null) {
        best = { length, segment };
        if (growing) step *= 2;
      } else growing = false;
    } else growing = false;
    if (!growing) step = Math.floor(step / 2);
    if (step < 1 || best.length === 0) return best;
    length = best.length + step;
  }
}

function lineOf(run: readonly BezierPiece[]): Segment | null {
  const [from, to] = [start(run[0]!), end(run[run.length - 1]!)];
  const l = distance(from, to);
  if (!(l > 0)) return null;
  const u = { x: (to.x - from.x) / l, y: (to.y - from.y) / l };
  const [d0, d1] = [direction(run[0]!, false), direction(run[run.length - 1]!, true)];
  if (d0 === null || d1 === null || angle(d0, u) > STRAIGHT_SWING || angle(d1, u) > STRAIGHT_SWING)
    return null;
  return run.every((p) => nearLine(p, from, u, STRAIGHT)) ? { kind: 'line', from, to } : null;
}

/** A place of a run by a share of its pieces. */
function along(run: readonly BezierPiece[], share: number): Point {
  const t = share * run.length;
  const k = Math.min(run.length - 1, Math.floor(t));
  return pieceAt(run[k]!, t - k);
}

/** The circle through three points, and which way it passes them. */
function circleThrough(a: Point, b: Point, c: Point): (RoundRun & { readonly side: number }) | null {
  const [bx, by, cx, cy] = [b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y];
  const d = 2 * (bx * cy - by * cx);
  const [b2, c2] = [bx * bx + by * by, cx * cx + cy * cy];
  const [x, y] = [(cy * b2 - by * c2) / d, (bx * c2 - cx * b2) / d];
  const radius = Math.hypot(x, y);
  if (!(radius <= LARGEST_RADIUS)) return null;
  return { kind: 'circle', centre: { x: a.x + x, y: a.y + y }, radius, side: Math.sign(d) };
}

/** How far a run goes round a centre, radians, as the sum of small steps. */
function turnRound(run: readonly BezierPiece[], centre: Point): number {
  let turned = 0;
  let last = start(run[0]!);
  for (const p of run)
    for (let k = 1; k <= 8; k++) {
      const at = pieceAt(p, k / 8);
      const [lx, ly, x, y] = [last.x - centre.x, last.y - centre.y, at.x - centre.x, at.y - centre.y];
      turned += Math.atan2(lx * y - ly * x, lx * x + ly * y);
      last = at;
    }
  return turned;
}

function arcOf(run: readonly BezierPiece[], within: number): Segment | null {
  const [from, to] = [start(run[0]!), end(run[run.length - 1]!)];
  const circle = circleThrough(from, along(run, 0.5), to);
  if (circle === null) return null;
  const { centre, radius, side } = circle;
  const leaves = (d: Point | null, at: Point): boolean =>
    d !== null && angle(d, { x: -side * (at.y - centre.y), y: side * (at.x - centre.x) }) <= TANGENT;
  if (!leaves(direction(run[0]!, false), from) || !leaves(direction(run[run.length - 1]!, true), to))
    return null;
  if (!run.every((p) => nearCircle(p, centre, radius, side, within))) return null;
  const turn = turnRound(run, centre);
  if (Math.abs(turn) < LEAST_SWEEP || Math.abs(turn) > 0.95 * FULL) return null;
  const s = segmentOfBulge(from, to, Math.tan(turn / 4));
  // The bulge is that of the turn, so its circle is the one that was proved, to rounding.
  return s.kind === 'arc' && distance(s.centre, centre) <= STRAIGHT / 2 ? s : null;
}

/** The circle that pieces go once round, ending where they began. */
function wholeCircle(pieces: readonly BezierPiece[], within: number): RoundRun | null {
  const [first, last] = [pieces[0]!, pieces[pieces.length - 1]!];
  if (distance(start(first), end(last)) > STRAIGHT) return null;
  const n = pieces.length;
  // Corners of pieces are where curves that stand for circles touch them.
  const share = (k: number): number => (n >= 3 ? Math.round((k * n) / 3) / n : k / 3);
  const circle = circleThrough(start(first), along(pieces, share(1)), along(pieces, share(2)));
  if (circle === null) return null;
  const { kind, centre, radius, side } = circle;
  if (!pieces.every((p) => nearCircle(p, centre, radius, side, within))) return null;
  return Math.abs(Math.abs(turnRound(pieces, centre)) - FULL) < 0.01 ? { kind, centre, radius } : null;
}

/** Pairs of arcs along pieces that go on smoothly. */
function fitRun(
  run: readonly BezierPiece[],
  within: number,
  spend: (places: number) => void,
): readonly Segment[] {
  const n = run.length;
  const placed = (t: number): readonly [BezierPiece, number] => {
    const k = Math.min(n - 1, Math.floor(t));
    return [run[k]!, t - k];
  };
  const curve: Curve = {
    at: (t) => {
      spend(1);
      return pieceAt(...placed(t));
    },
    tangent: (t) => {
      spend(1);
      return pieceSlope(...placed(t));
    },
    swing: (a, b) => {
      spend(1);
      return swingOf(run, a, b);
    },
  };
  return fitArcs(curve, [0, n], { tolerance: within });
}

/** The angle of the cone that holds all slope coefficients between two parameters; no direction is outside it. */
function swingOf(run: readonly BezierPiece[], a: number, b: number): number {
  const last = Math.min(run.length - 1, Math.ceil(b) - 1);
  let reference: Point | null = null;
  let [least, most] = [0, 0];
  for (let k = Math.min(run.length - 1, Math.floor(a)); k <= last; k++) {
    const p = run[k]!;
    const [from, to] = [Math.max(0, a - k), Math.min(1, b - k)];
    const [dx, dy] = [between(p.dx, from, to), between(p.dy, from, to)];
    for (let i = 0; i < dx.length; i++) {
      const [x, y] = [dx[i]!, dy[i]!];
      if (x === 0 && y === 0) continue;
      reference ??= { x, y };
      const turned = Math.atan2(reference.x * y - reference.y * x, reference.x * x + reference.y * y);
      least = Math.min(least, turned);
      most = Math.max(most, turned);
      if (most - least >= Math.PI) return Math.PI;
    }
  }
  return most - least;
}

/** Whether an arc goes all the way round. */
export const isFullTurn = (s: Segment): s is ArcSegment =>
  s.kind === 'arc' && Math.abs(s.sweep) > FULL - 1e-9;
