import { distance, type Point } from './point.js';
import type { LineSegment } from './ring.js';

/** The bulges, tan(sweep/4), of arcs between two points; none where `least` is above `most`. */
export interface Bulges {
  readonly least: number;
  readonly most: number;
}

/** What the chords of one arc keep to. mm */
export interface ChordRule {
  /** How far a corner may be from the arc. */
  readonly tolerance: number;
  /** How far the arc may stand off a chord. */
  readonly sagitta: number;
}

/**
 * How much longer than the shortest a chord of an arc may be: chords halved where needed differ by 2, and rounding
 * puts two in line. The first and the last may be shorter than all.
 */
export const UNEVEN = 4;

/** Chords that turn more than this at a corner are corners of a drawing, radians: an octagon's. */
export const SHARPEST = Math.PI / 4 + 1e-6;

/** No run goes further round than this, so that bulges keep their digits, radians. */
const FURTHEST = 1.85 * Math.PI;

/**
 * How many of the chords from number `first` on could come from one arc by their pattern alone: all turn to one
 * side, but for what moving corners by the tolerance does, and none more than an eighth of a turn; none but the
 * ends is much shorter than another; all have one tag; and together they stay below a full turn.
 */
export function patternLength(
  lines: readonly LineSegment[],
  first: number,
  limit: number,
  tolerance: number,
): number {
  let side = 0;
  let turned = 0;
  let shortest = Infinity;
  let longest = 0;
  let n = 1;
  let last = lines[first]!;
  longest = lengthOf(last);
  for (; first + n < limit; n++) {
    const next = lines[first + n]!;
    if (next.tag !== last.tag) break;
    const turn = turnOf(last, next);
    if (Math.abs(turn) > SHARPEST) break;
    if (!isFlat(last, next, turn, tolerance)) {
      if (side === 0) side = Math.sign(turn);
      else if (Math.sign(turn) !== side) break;
    }
    turned += turn;
    if (Math.abs(turned) > FURTHEST) break;
    // The chord before is now known not to be the last; the first stays out of the count of the short.
    if (n > 1) shortest = Math.min(shortest, lengthOf(last));
    longest = Math.max(longest, lengthOf(next));
    if (longest > UNEVEN * shortest) break;
    last = next;
  }
  return n;
}

/** Whether a corner turns so little that moving it by the tolerance may have made it turn. */
export const isFlat = (a: LineSegment, b: LineSegment, turn: number, tolerance: number): boolean =>
  Math.abs(turn) * Math.min(lengthOf(a), lengthOf(b)) <= 2 * tolerance;

/**
 * The bulges of the arcs between the ends of `count` chords that pass all corners between within the tolerance,
 * in the order of the chords, and stand off no chord by more than the sagitta.
 */
export function fittingBulges(
  lines: readonly LineSegment[],
  first: number,
  count: number,
  { tolerance, sagitta }: ChordRule,
): Bulges {
  const a = lines[first]!.from;
  const b = lines[first + count - 1]!.to;
  const chord = distance(a, b);
  const none: Bulges = { least: 1, most: -1 };
  if (!(chord > tolerance)) return none;
  const side = bulgeThrough(a, lines[first + Math.floor(count / 2)]!.from, b);
  let least = -Infinity;
  let most = Infinity;
  let longest = 0;
  for (let k = 0; k < count; k++) {
    const line = lines[first + k]!;
    longest = Math.max(longest, lengthOf(line));
    if (k === count - 1) break;
    const range = bulgesPast(a, b, line.to, tolerance);
    least = Math.max(least, range.least);
    most = Math.min(most, range.most);
    if (least > most) return none;
  }
  // Of one side's turn only, and with no chord's sagitta c²/(8 r) too great: r = chord (1 + b²)/(4 |b|).
  if (side > 0) least = Math.max(least, 1e-12);
  else most = Math.min(most, -1e-12);
  if (least > most) return none;
  const middle = (least + most) / 2;
  const radius = (chord * (1 + middle * middle)) / (4 * Math.abs(middle));
  if (longest > 2 * radius) return none;
  const stands = radius - Math.sqrt(radius * radius - (longest * longest) / 4);
  return stands > sagitta ? none : { least, most };
}

/**
 * Bulges of arcs from `a` to `b` that pass a point within `tolerance`: those between the arcs through the two
 * places that far to either side of it. The circles through two points fill the plane without crossing, so that
 * all between do as well.
 */
function bulgesPast(a: Point, b: Point, p: Point, tolerance: number): Bulges {
  if (distance(a, p) <= tolerance || distance(b, p) <= tolerance) return { least: -Infinity, most: Infinity };
  const bulge = bulgeThrough(a, p, b);
  // The arc's direction at p leans from the chord a–p by half of its sweep to there, which is seen from b.
  const lean = Math.atan2(
    (b.x - a.x) * (p.y - b.y) - (b.y - a.y) * (p.x - b.x),
    -(b.x - a.x) * (p.x - b.x) - (b.y - a.y) * (p.y - b.y),
  );
  const along = Math.atan2(p.y - a.y, p.x - a.x) - lean;
  const [nx, ny] = [-Math.sin(along) * tolerance, Math.cos(along) * tolerance];
  const left = bulgeThrough(a, { x: p.x + nx, y: p.y + ny }, b);
  const right = bulgeThrough(a, { x: p.x - nx, y: p.y - ny }, b);
  return { least: Math.min(left, right, bulge), most: Math.max(left, right, bulge) };
}

/** The bulge of the arc from one point through another to a third: half its sweep is the turn at the middle. */
export const bulgeThrough = (a: Point, p: Point, b: Point): number =>
  Math.tan(
    Math.atan2(
      (p.x - a.x) * (b.y - p.y) - (p.y - a.y) * (b.x - p.x),
      (p.x - a.x) * (b.x - p.x) + (p.y - a.y) * (b.y - p.y),
    ) / 2,
  );

const lengthOf = (l: LineSegment): number => distance(l.from, l.to);

/** The signed angle between two lines, radians. */
export function turnOf(a: LineSegment, b: LineSegment): number {
  const [ax, ay] = [a.to.x - a.from.x, a.to.y - a.from.y];
  const [bx, by] = [b.to.x - b.from.x, b.to.y - b.from.y];
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}
