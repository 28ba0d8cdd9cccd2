import { biarc } from './biarc.js';
import { mergeRuns } from './merge-runs.js';
import { distance, type Point } from './point.js';
import { type ArcSegment, type Segment, segmentOfBulge } from './ring.js';
import { endDirection, startDirection } from './segment-course.js';

/** A smooth curve by its parameter. mm */
export interface Curve {
  /** The place at a parameter. */
  at(t: number): Point;
  /** The direction of travel there, of any length but none. */
  tangent(t: number): Point;
  /** At least the angle in radians by which the direction swings anywhere between two parameters, where known. */
  swing?(from: number, to: number): number;
}

/** Curves this near to one line or circle are that line or circle, mm: a hundredth of the grid. */
const EXACT = 1e-6;

/** Halvings after which a parameter has no digits left. */
const DEEPEST = 48;

/** Stretches between neighbouring samples at the start; they are halved where the bound asks for it. */
const STRETCHES = 8;

/** A stretch that is still not smooth after so many halvings holds a corner. */
const CORNER = 12;

/** What stands for a stretch of a line or circle leaves it in this direction or better, radians. */
const SMOOTH = 1e-6;

/** How often the stretch between two samples is halved before a fit is given up. */
const HALVINGS = 10;

/** Between samples the direction may leave the arc's by this many times what the samples show. */
const MARGIN = 2;

/**
 * Lines and arcs that follow a smooth curve over a range of its parameter within `tolerance` mm, in the order
 * of the curve, found by halving the range until a pair of arcs (`biarc`) is near enough. A stretch on one line
 * is one line, a stretch on one circle one arc, up to the full turn (which `ringOfSegments` makes two of).
 *
 * Guaranteed: ends and directions at the ends of each piece are the curve's own, so that the result has no
 * corner where the curve has none; both keep to within `tolerance` of each other. How that is known: at each
 * sample the distance e to the arc and the angle ψ to its direction are measured; over a way l between two
 * samples e changes by at most l/2·sin ψ beyond the greater of its ends. If the curve gives its `swing`, ψ is
 * bounded by it and the guarantee has no exception. If not, ψ is taken as twice the greater of the two samples,
 * of which there are at least nine for each arc; a curve that swings out and back between two of them escapes.
 * Corners are for the caller to give as ends of ranges; at one inside, pieces get as short as the tolerance.
 * @throws RangeError when the range does not rise, the tolerance is not positive, or the curve gives a number
 * that is not finite.
 */
export function fitArcs(
  curve: Curve,
  range: readonly [number, number],
  { tolerance }: { readonly tolerance: number },
): Segment[] {
  const [start, end] = range;
  if (!(tolerance > 0)) throw new RangeError(`fitArcs: tolerance ${tolerance} must be positive`);
  if (!(end > start) || !Number.isFinite(end - start))
    throw new RangeError(`fitArcs: the range ${start} to ${end} does not rise`);
  const checked: Curve = {
    at: (t) => finite(curve.at(t), t),
    tangent: (t) => directionOf(curve, t, range),
    ...(curve.swing === undefined ? {} : { swing: (a, b) => curve.swing!(a, b) }),
  };
  // What merging at the end may add is taken off beforehand.
  const merged = Math.min(EXACT, tolerance) / 10;
  const within = tolerance - merged;
  const whole = wholeCircle(checked, start, end, Math.min(EXACT, within));
  if (whole) return [whole];
  const out: Segment[] = [];
  const fit = (a: number, b: number, depth: number): void => {
    const fitted = fitPiece(checked, a, b, within, depth);
    if (fitted) {
      out.push(...fitted);
      return;
    }
    const middle = (a + b) / 2;
    fit(a, middle, depth + 1);
    fit(middle, b, depth + 1);
  };
  fit(start, end, 0);
  // Pieces of one line or circle that halving has parted become one again.
  return mergeRuns(
    out.filter((s) => s.from.x !== s.to.x || s.from.y !== s.to.y || s.kind === 'arc'),
    merged,
  );
}

function finite(p: Point, t: number): Point {
  if (!Number.isFinite(p.x) || !Number.isFinite(p.y))
    throw new RangeError(`fitArcs: the curve is not finite at ${t}`);
  return p;
}

/** The curve's direction, in a place where it stands still that of a place close by. */
function directionOf(curve: Curve, t: number, [start, end]: readonly [number, number]): Point {
  const d = finite(curve.tangent(t), t);
  if (d.x !== 0 || d.y !== 0) return d;
  const step = (end - start) * 1e-7;
  const a = curve.at(Math.max(start, t - step));
  const b = curve.at(Math.min(end, t + step));
  return { x: b.x - a.x, y: b.y - a.y };
}

function fitPiece(c: Curve, a: number, b: number, within: number, depth: number): Segment[] | undefined {
  const from = c.at(a);
  const to = c.at(b);
  if (depth >= DEEPEST || (depth >= CORNER && isSpeck(c, a, b, within / 4)))
    return [{ kind: 'line', from, to }];
  if (distance(from, to) === 0) return undefined;
  const exact = Math.min(EXACT, within);
  const line: Segment = { kind: 'line', from, to };
  if (follows(c, a, b, line, exact, SMOOTH)) return [line];
  const middle = c.at((a + b) / 2);
  const round = arcThrough(from, middle, to);
  if (round && follows(c, a, b, round, exact, SMOOTH)) return [round];
  const arcs = pairOf(c, a, b, from, to);
  if (!arcs) return undefined;
  const [first, second] = arcs;
  if (!second) return follows(c, a, b, first, within) ? arcs : undefined;
  const joint = passing(c, a, b, first);
  if (joint === undefined) return undefined;
  return follows(c, a, joint, first, within) && follows(c, joint, b, second, within) ? arcs : undefined;
}

const pairOf = (c: Curve, a: number, b: number, from: Point, to: Point) => {
  const t0 = c.tangent(a);
  const t1 = c.tangent(b);
  const v = { x: to.x - from.x, y: to.y - from.y };
  // A curve that leaves or arrives square to its chord or worse is not near a biarc worth having.
  if (v.x * t0.x + v.y * t0.y <= 0 || v.x * t1.x + v.y * t1.y <= 0) return undefined;
  return biarc(from, t0, to, t1);
};

function isSpeck(c: Curve, a: number, b: number, size: number): boolean {
  const from = c.at(a);
  for (let k = 1; k <= STRETCHES; k++)
    if (distance(from, c.at(a + ((b - a) * k) / STRETCHES)) > size) return false;
  return true;
}

/** The parameter at which the curve passes the end of an arc, square to the arc there. */
function passing(c: Curve, a: number, b: number, arc: Segment): number | undefined {
  const d = endDirection(arc);
  const ahead = (t: number): boolean => {
    const p = c.at(t);
    return (p.x - arc.to.x) * d.x + (p.y - arc.to.y) * d.y > 0;
  };
  if (ahead(a) || !ahead(b)) return undefined;
  let [low, high] = [a, b];
  for (let k = 0; k < 60 && low < high; k++) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (ahead(middle)) high = middle;
    else low = middle;
  }
  return low;
}

/** How a place of the curve lies to the line or circle of an arc. */
interface Sample {
  readonly t: number;
  readonly p: Point;
  /** Distance off, mm, without sign. */
  readonly off: number;
  /** The angle between the directions of curve and arc, radians, without sign. */
  readonly angle: number;
  /** The direction in which the arc's centre sees it, radians; 0 for a line. */
  readonly place: number;
}

/**
 * Whether a stretch of the curve runs along an arc within `within` all the way, never turning back, and starts
 * and ends in its direction within `kink` radians.
 */
function follows(c: Curve, a: number, b: number, arc: Segment, within: number, kink = Infinity): boolean {
  const sampleAt = sampler(c, arc);
  let last = sampleAt(a);
  if (last.angle > kink || sampleAt(b).angle > kink) return false;
  for (let k = 1; k <= STRETCHES; k++) {
    const next = sampleAt(k === STRETCHES ? b : a + ((b - a) * k) / STRETCHES);
    if (!stretchFollows(c, sampleAt, last, next, within, HALVINGS)) return false;
    last = next;
  }
  return true;
}

function stretchFollows(
  c: Curve,
  sampleAt: (t: number) => Sample,
  a: Sample,
  b: Sample,
  within: number,
  halvings: number,
): boolean {
  const off = Math.max(a.off, b.off);
  const angle = Math.max(a.angle, b.angle);
  // At a right angle the curve no longer goes along the arc.
  if (!(off <= within) || angle >= Math.PI / 2) return false;
  const chord = distance(a.p, b.p);
  const swing = c.swing?.(a.t, b.t);
  // The arc's own direction turns with the place along it.
  const turn = Math.abs(Math.atan2(Math.sin(b.place - a.place), Math.cos(b.place - a.place)));
  const lean = swing === undefined ? MARGIN * angle : Math.min(a.angle, b.angle) + swing + turn;
  // The way is longer than its chord by no more than 1/cos of what its direction swings.
  const bend = swing ?? turn + MARGIN * angle;
  if (bend < Math.PI / 3 && lean < Math.PI / 3) {
    const way = chord / Math.cos(bend);
    if (off + (way / 2) * Math.sin(lean) <= within) return true;
  }
  if (halvings === 0) return false;
  const middle = sampleAt((a.t + b.t) / 2);
  return (
    stretchFollows(c, sampleAt, a, middle, within, halvings - 1) &&
    stretchFollows(c, sampleAt, middle, b, within, halvings - 1)
  );
}

function sampler(c: Curve, arc: Segment): (t: number) => Sample {
  const angleOf = (ux: number, uy: number, d: Point): number =>
    Math.abs(Math.atan2(ux * d.y - uy * d.x, ux * d.x + uy * d.y));
  if (arc.kind === 'line') {
    const u = startDirection(arc);
    return (t) => {
      const p = c.at(t);
      const off = Math.abs((p.x - arc.from.x) * u.y - (p.y - arc.from.y) * u.x);
      return { t, p, off, angle: angleOf(u.x, u.y, c.tangent(t)), place: 0 };
    };
  }
  const side = Math.sign(arc.sweep);
  return (t) => {
    const p = c.at(t);
    const x = p.x - arc.centre.x;
    const y = p.y - arc.centre.y;
    return {
      t,
      p,
      off: Math.abs(Math.hypot(x, y) - arc.radius),
      angle: angleOf(-side * y, side * x, c.tangent(t)),
      place: Math.atan2(y, x),
    };
  };
}

/** The arc from one point through another to a third; undefined where they are in line. */
function arcThrough(from: Point, middle: Point, to: Point): ArcSegment | undefined {
  const cross = (middle.x - from.x) * (to.y - middle.y) - (middle.y - from.y) * (to.x - middle.x);
  const dot = (middle.x - from.x) * (to.x - middle.x) + (middle.y - from.y) * (to.y - middle.y);
  // Seen from the middle the ends stand at half of what the sweep leaves of a full turn.
  const s = segmentOfBulge(from, to, Math.tan(Math.atan2(cross, dot) / 2));
  return s.kind === 'arc' ? s : undefined;
}

/** The arc of a curve that stays on one circle, up to a full turn and no more. */
function wholeCircle(c: Curve, a: number, b: number, within: number): ArcSegment | undefined {
  const at = (k: number): Point => c.at(a + ((b - a) * k) / 3);
  const [from, one, two, to] = [at(0), at(1), at(2), c.at(b)];
  const part = arcThrough(from, one, two);
  if (!part) return undefined;
  const side = Math.sign(part.sweep);
  if (!follows(c, a, b, part, within)) return undefined;
  // The way round is the sum of small steps, so that more than a turn is not taken for less.
  let turned = 0;
  const steps = 4 * STRETCHES;
  let last = from;
  for (let k = 1; k <= steps; k++) {
    const p = k === steps ? to : c.at(a + ((b - a) * k) / steps);
    const [lx, ly] = [last.x - part.centre.x, last.y - part.centre.y];
    const [px, py] = [p.x - part.centre.x, p.y - part.centre.y];
    turned += Math.atan2(lx * py - ly * px, lx * px + ly * py);
    last = p;
  }
  if (turned * side <= 0 || Math.abs(turned) > 2 * Math.PI + 1e-9) return undefined;
  if (distance(from, to) > within) {
    const s = segmentOfBulge(from, to, Math.tan(turned / 4));
    return s.kind === 'arc' && follows(c, a, b, s, within) ? s : undefined;
  }
  if (Math.abs(turned) < Math.PI) return undefined;
  return { ...part, from, to: from, sweep: side * 2 * Math.PI };
}
