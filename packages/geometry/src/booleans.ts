import { indexBoxes, widenBox } from './box-index.js';
import { chainPieces, type Piece } from './chain-pieces.js';
import { ringOfLoop } from './offset-loop.js';
import { COINCIDE, SAME_COURSE, THIN } from './offset-tolerance.js';
import { distance, type Point } from './point.js';
import { rayCrossings } from './ray-crossings.js';
import { regionsOfRings } from './region.js';
import { type Region, type Ring, ringSegments, type Segment } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import { segmentBounds } from './ring-bounds.js';
import { directionAt, pointAlong, reverseSegment } from './segment-course.js';
import { TOUCH } from './segment-intersections.js';
import { GRID } from './snap.js';
import { splitCurves } from './split-curves.js';

/**
 * The area that any of the rings cover, true to their arcs. A ring covers what it winds round, so that a
 * clockwise ring inside a counter-clockwise one is a hole, and rings may cross themselves.
 *
 * Guaranteed of all three booleans: every segment of the result is a piece of a segment of the input and keeps
 * its tag (of the first ring that has it, where several run over each other); corners are those of the input or
 * places where its segments meet, moved by at most 0.0000001 mm, or 0.000001 mm where crossings crowd; outer
 * rings are counter-clockwise and holes clockwise; no ring crosses itself or another, but they may touch.
 * Curves nearer to each other than 0.000001 mm all the way between two meets are one. What is thinner than that
 * is no area. The largest region comes first.
 */
export const unionRings = (rings: readonly Ring[]): Region[] => combine(rings, [], (a) => a);

/** The area that `from` cover and `what` do not, true to their arcs; see `unionRings` for what is guaranteed. */
export const subtractRings = (from: readonly Ring[], what: readonly Ring[]): Region[] =>
  combine(from, what, (a, b) => a && !b);

/** The area that `a` and `b` both cover, true to their arcs; see `unionRings` for what is guaranteed. */
export const intersectRings = (a: readonly Ring[], b: readonly Ring[]): Region[] =>
  combine(a, b, (inA, inB) => inA && inB);

/** Pieces that run over each other, taken as one: the course of `piece`, and how often each side runs along it. */
interface Strand {
  readonly piece: Piece;
  /** Along less against. */
  a: number;
  b: number;
  /** How often each side winds round what is on the left, once known. */
  left?: { readonly a: number; readonly b: number };
}

/** How near points are one node, mm, at first and where a loop is left open. */
const COINCIDING = [COINCIDE, 3 * COINCIDE, 10 * COINCIDE];

function combine(
  a: readonly Ring[],
  b: readonly Ring[],
  covered: (inA: boolean, inB: boolean) => boolean,
): Region[] {
  const first = a.flatMap(ringSegments);
  const curves = [...first, ...b.flatMap(ringSegments)];
  const courses = [...curves, ...curves.map(reverseSegment)];
  let best: { loops: Piece[][]; lost: number } | undefined;
  for (const coincide of COINCIDING) {
    const strands = strandsOf(curves, first.length, coincide);
    findWindings(strands);
    const found = chainPieces(bounding(strands, curves.length, covered));
    if (!best || found.lost < best.lost) best = found;
    if (best.lost < GRID) break;
  }
  const rings = best!.loops
    .map((loop) => ringOfLoop(loop, courses, courses.length))
    .filter((r) => Math.abs(ringArea(r)) > (THIN * ringPerimeter(r)) / 2);
  return regionsOfRings(rings);
}

/** An arc's pieces turn less than this, so that a ray along the normal in their middle does not meet them again. */
const QUARTER = 0.499 * Math.PI;

function strandsOf(curves: readonly Segment[], ofFirst: number, coincide: number): Strand[] {
  const { stretches, points } = splitCurves(curves, coincide, (i) => {
    const c = curves[i]!;
    const parts = c.kind === 'line' ? 1 : Math.ceil(Math.abs(c.sweep) / QUARTER);
    return Array.from({ length: parts - 1 }, (_, k) => (k + 1) / parts);
  });
  const nodes = points.length;
  const byEnds = new Map<number, Strand[]>();
  const strands: Strand[] = [];
  for (const { curve, start, end, from, to } of stretches) {
    const c = curves[curve]!;
    const middle = pointAlong(c, (start + end) / 2);
    const side = curve < ofFirst ? 'a' : 'b';
    const same = (s: Strand): boolean => distance(s.piece.middle, middle) <= SAME_COURSE;
    const along = byEnds.get(from * nodes + to);
    const known = along?.find(same);
    const against = known ? undefined : byEnds.get(to * nodes + from)?.find(same);
    if (known) known[side]++;
    else if (against) against[side]--;
    else {
      const ends = { from: points[from]!, to: points[to]! };
      const segment =
        c.kind === 'line' ? { ...c, ...ends } : { ...c, ...ends, sweep: c.sweep * (end - start) };
      const strand: Strand = { piece: { curve, start, end, from, to, middle, segment }, a: 0, b: 0 };
      strand[side]++;
      strands.push(strand);
      if (along) along.push(strand);
      else byEnds.set(from * nodes + to, [strand]);
    }
  }
  return strands.filter((s) => s.a !== 0 || s.b !== 0);
}

/** Counts for every strand how often each side winds round what is on its left. */
function findWindings(strands: readonly Strand[]): void {
  const windingsAt = windingCounter(strands);
  const entering = new Map<number, Strand[]>();
  const leaving = new Map<number, Strand[]>();
  const put = (map: Map<number, Strand[]>, node: number, s: Strand): void => {
    const list = map.get(node);
    if (list) list.push(s);
    else map.set(node, [s]);
  };
  for (const s of strands) {
    put(entering, s.piece.to, s);
    put(leaving, s.piece.from, s);
  }
  // Where one strand enters a node and one leaves it, nothing changes beside them.
  const onlyAt = (
    map: Map<number, Strand[]>,
    other: Map<number, Strand[]>,
    node: number,
  ): Strand | undefined =>
    map.get(node)?.length === 1 && other.get(node)?.length === 1 ? map.get(node)![0] : undefined;
  for (const s of strands) {
    if (s.left) continue;
    const left = windingsAt(s);
    s.left = left;
    for (let next = onlyAt(leaving, entering, s.piece.to); next && !next.left; )
      [next.left, next] = [left, onlyAt(leaving, entering, next.piece.to)];
    for (let next = onlyAt(entering, leaving, s.piece.from); next && !next.left; )
      [next.left, next] = [left, onlyAt(entering, leaving, next.piece.from)];
  }
}

/** A frame turned by quarter turns, in which rounding changes nothing. */
const TURNED: readonly ((p: Point) => Point)[] = [
  (p) => p,
  ({ x, y }) => ({ x: y, y: -x }),
  ({ x, y }) => ({ x: -x, y: -y }),
  ({ x, y }) => ({ x: -y, y: x }),
];

/**
 * Counts windings on the left of a strand by a ray from its middle. Of the four axes the ray takes the one
 * nearest to the normal, or against it, so that it cannot meet the strand itself again.
 */
function windingCounter(strands: readonly Strand[]): (s: Strand) => { a: number; b: number } {
  const boxes = strands.map((s) => segmentBounds(s.piece.segment));
  const index = indexBoxes(boxes);
  const frames: Segment[][] = [[], [], [], []];
  const inFrame = (i: number, quarter: number): Segment => {
    const s = strands[i]!.piece.segment;
    if (quarter === 0) return s;
    const turn = TURNED[quarter]!;
    const known = frames[quarter]![i];
    if (known) return known;
    const ends = { from: turn(s.from), to: turn(s.to) };
    const turned = s.kind === 'line' ? { ...s, ...ends } : { ...s, ...ends, centre: turn(s.centre) };
    frames[quarter]![i] = turned;
    return turned;
  };
  return (strand) => {
    const p = strand.piece.middle;
    const d = directionAt(strand.piece.segment, p);
    // The left normal is (−d.y, d.x); rays along +y meet what +x meets in a frame turned by a quarter.
    const quarter = Math.abs(d.y) >= Math.abs(d.x) ? (d.y < 0 ? 0 : 2) : d.x > 0 ? 1 : 3;
    const far = [
      { minX: p.x, maxX: Infinity, minY: p.y, maxY: p.y },
      { minX: p.x, maxX: p.x, minY: p.y, maxY: Infinity },
      { minX: -Infinity, maxX: p.x, minY: p.y, maxY: p.y },
      { minX: p.x, maxX: p.x, minY: -Infinity, maxY: p.y },
    ][quarter]!;
    const q = TURNED[quarter]!(p);
    let a = 0;
    let b = 0;
    index.search(widenBox(far, TOUCH), (i) => {
      const other = strands[i]!;
      if (other === strand) return false;
      const passes = rayCrossings(inFrame(i, quarter), q);
      a += passes * other.a;
      b += passes * other.b;
      return false;
    });
    return { a, b };
  };
}

/** The strands with the wanted area on one side only, walked so that it is on their left. */
function bounding(
  strands: readonly Strand[],
  curves: number,
  covered: (inA: boolean, inB: boolean) => boolean,
): Piece[] {
  const out: Piece[] = [];
  for (const { piece, a, b, left } of strands) {
    const onLeft = covered(left!.a !== 0, left!.b !== 0);
    const onRight = covered(left!.a - a !== 0, left!.b - b !== 0);
    if (onLeft === onRight) continue;
    if (onLeft) out.push(piece);
    else
      out.push({
        ...piece,
        curve: piece.curve + curves,
        start: 1 - piece.end,
        end: 1 - piece.start,
        from: piece.to,
        to: piece.from,
        segment: reverseSegment(piece.segment),
      });
  }
  return out;
}
