import {
  type ArcSegment,
  distance,
  type Point,
  type Ring,
  reverseRing,
  type Segment,
  snap,
  sweepAround,
  type Vertex,
} from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { meetAgain, tangentAt } from '../meet.js';
import { featureParts, featureVanishes, inPart } from './diagnostics.js';
import type { Bend, Wall, WallCourse } from './wall-course.js';

/** A ring with its walls moved, and what could not be. */
export interface MovedRing {
  readonly ring: Ring;
  readonly problems: readonly Diagnostic[];
  /** Where things in the corners have gone: the sharp corner before, and its move. */
  readonly corners: readonly { readonly corner: Point; readonly by: Point }[];
}

const STILL: Point = { x: 0, y: 0 };
const isStill = (p: Point): boolean => p.x === 0 && p.y === 0;
const plus = (a: Point, b: Point): Point => ({ x: a.x + b.x, y: a.y + b.y });
const minus = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y });

/** Points of a broken wall go with its end where they are no further from it than this, mm, or a third of it. */
const NEAR_END = 3;
/** Ends of one segment closer than this have met, mm. */
const VANISHED = 0.001;

/** How a wall moves: along its left normal. */
const wallMove = (wall: Wall, by: number): Point =>
  by === 0 ? STILL : { x: -wall.uy * by, y: wall.ux * by };

/** The whole wall as one segment, between its sharp corners. */
const wholeWall = (e: Wall): Segment => ({ kind: 'line', from: e.from, to: e.to });

/**
 * The contour after its walls have moved by `by` (mm along their left normal, by element; 0 for bends): corners are
 * met again; what is drawn in a corner travels with it; an arc that runs into a moving wall without a bend, over other arcs or not, goes along,
 * one between two walls like a half round takes up the change, any other stays and its ends slide along it. What does
 * not move keeps its numbers exactly; what does is on the 0.0001 mm grid. `followed` names features in
 * refusals; `bends` are moves of arcs that are known already.
 */
export function moveWalls(
  w: WallCourse,
  by: readonly number[],
  followed: (element: number) => readonly string[],
  bends: readonly (Point | null)[] = [],
): MovedRing {
  const { course, elements, pieces } = w;
  const original = (): Ring => {
    const ring = { vertices: course.vertices };
    return course.reversed ? reverseRing(ring) : ring;
  };
  if (by.every((o) => o === 0) && bends.every((b) => b === null || isStill(b)))
    return { ring: original(), problems: [], corners: [] };
  const n = elements.length;
  const problems: Diagnostic[] = [];
  const moves = elementMoves(w, by, bends);
  const segment = (k: number): Segment => {
    const e = elements[k]!;
    return e.kind === 'wall' ? wholeWall(e) : e.arc;
  };
  const at = (p: Point) => inPart(course.part, course.contour, { x: snap(p.x), y: snap(p.y) });
  const name = (k: number): string => elements[k]!.names[0]!;
  // The move of the corner between each element and the next.
  const corners = elements.map((e, i) => {
    const j = (i + 1) % n;
    const old = pieces[i]?.corner ?? (e.kind === 'wall' ? e.to : e.arc.to);
    if (isStill(moves[i]!.by) && isStill(moves[j]!.by) && !moves[i]!.stretch && !moves[j]!.stretch)
      return { corner: old, by: STILL };
    const rounded = moves[i]!.stretch ? moves[j]!.by : moves[j]!.stretch ? moves[i]!.by : undefined;
    if (rounded) return { corner: old, by: rounded };
    const p = meetAgain(segment(i), moves[i]!.by, segment(j), moves[j]!.by, old);
    if (!p) problems.push(featureParts(name(i), name(j), at(old)));
    return { corner: old, by: p ? minus(p, old) : STILL };
  });
  if (problems.length > 0) return { ring: original(), problems, corners: [] };
  elements.forEach((e, i) => {
    const [a, b] = [corners[(i + n - 1) % n]!.by, corners[i]!.by];
    const start = e.kind === 'wall' ? e.from : e.arc.from;
    if (lost(e, a, b, moves[i]!))
      problems.push(
        featureVanishes(
          name(i),
          [...new Set([(i + n - 1) % n, i, (i + 1) % n].flatMap(followed))].sort(),
          at(start),
        ),
      );
  });
  if (problems.length > 0) return { ring: original(), problems, corners: [] };
  return { ring: withMoves(w, moves, corners), problems, corners: corners.filter((c) => !isStill(c.by)) };
}

/** Whether a wall has no length left, or an arc has come to run the other way round, once its ends have moved. */
function lost(e: Wall | Bend, a: Point, b: Point, move: ElementMove): boolean {
  if (isStill(a) && isStill(b)) return false;
  if (e.kind === 'wall') {
    const [from, to] = [plus(e.from, a), plus(e.to, b)];
    return (to.x - from.x) * e.ux + (to.y - from.y) * e.uy <= VANISHED;
  }
  if (move.stretch) return false;
  const turn = e.arc.sweep > 0 ? 'ccw' : 'cw';
  const sweep = sweepAround(plus(e.arc.centre, move.by), plus(e.arc.from, a), plus(e.arc.to, b), turn);
  return Math.abs(sweep - e.arc.sweep) > Math.PI;
}

interface ElementMove {
  readonly by: Point;
  /** True for a half round between two walls: it keeps its sweep and changes its radius. */
  readonly stretch: boolean;
}

/** How each element moves as a whole. */
function elementMoves(
  { elements, pieces }: WallCourse,
  by: readonly number[],
  bends: readonly (Point | null)[],
): ElementMove[] {
  const n = elements.length;
  return elements.map((e, i): ElementMove => {
    if (e.kind === 'wall') return { by: wallMove(e, by[i]!), stretch: false };
    const given = bends[i];
    if (given) return { by: given, stretch: false };
    const ends = [smoothEnd(elements, pieces, i, -1), smoothEnd(elements, pieces, i, 1)];
    const beside = ends.flatMap((k) =>
      k === null ? [] : [{ wall: elements[k] as Wall, by: wallMove(elements[k] as Wall, by[k]!) }],
    );
    // Only a half round of its own can take up what its two walls differ by.
    const single = ends[0] === (i + n - 1) % n && ends[1] === (i + 1) % n;
    const [a, b] = beside;
    if (!a) return { by: STILL, stretch: false };
    if (!b) return { by: a.by, stretch: false };
    const across = a.wall.ux * b.wall.uy - a.wall.uy * b.wall.ux;
    if (Math.abs(across) < 1e-3) {
      const alike = distance(a.by, b.by) === 0;
      return {
        by: alike ? a.by : { x: (a.by.x + b.by.x) / 2, y: (a.by.y + b.by.y) / 2 },
        stretch: !alike && single,
      };
    }
    return { by: onBoth(a, b, across), stretch: false };
  });
}

/** The wall that an arc runs into without a bend on one side, directly or over other arcs; null where there is none. */
function smoothEnd(
  elements: WallCourse['elements'],
  pieces: WallCourse['pieces'],
  start: number,
  step: -1 | 1,
): number | null {
  const n = elements.length;
  let k = start;
  for (let count = 0; count < n; count++) {
    const next = (k + step + n) % n;
    const [here, there] = [elements[k]!, elements[next]!];
    if (here.kind !== 'bend' || pieces[step === 1 ? k : next]) return null;
    const corner = step === 1 ? here.arc.to : here.arc.from;
    const beyond = there.kind === 'wall' ? wholeWall(there) : there.arc;
    if (!tangentAt(beyond, here.arc, corner)) return null;
    if (there.kind === 'wall') return next;
    k = next;
  }
  return null;
}

/** The move that takes both walls' lines along. */
function onBoth(a: { wall: Wall; by: Point }, b: { wall: Wall; by: Point }, across: number): Point {
  const p = -a.wall.uy * a.by.x + a.wall.ux * a.by.y;
  const q = -b.wall.uy * b.by.x + b.wall.ux * b.by.y;
  return { x: (a.wall.ux * q - b.wall.ux * p) / across, y: (a.wall.uy * q - b.wall.uy * p) / across };
}

/** The ring with every vertex where its elements have gone, and arcs bent anew where their ends slid. */
function withMoves(
  { course, elements, pieces }: WallCourse,
  moves: readonly ElementMove[],
  corners: readonly { readonly corner: Point; readonly by: Point }[],
): Ring {
  const n = elements.length;
  const count = course.segments.length;
  // The move of the point at which each segment starts, and of each segment's centre where it is an arc.
  const startBy = new Array<Point>(count).fill(STILL);
  const centreBy = new Array<Point | null>(count).fill(null);
  elements.forEach((e, i) => {
    const first = corners[(i + n - 1) % n]!;
    const last = corners[i]!;
    if (e.kind === 'wall') {
      e.segments.forEach((s, k) => {
        if (k === 0) startBy[s] = first.by;
        else startBy[s] = brokenWallMove(e, course.segments[s]!.from, moves[i]!.by, first, last);
      });
    } else {
      e.segments.forEach((s, k) => {
        const { by, stretch } = moves[i]!;
        startBy[s] =
          k === 0 ? first.by : stretch ? stretched(e.arc, course.segments[s]!.from, by, first.by) : by;
        centreBy[s] = stretch ? null : by;
      });
    }
    const piece = pieces[i];
    if (piece)
      for (const s of piece.segments) {
        startBy[s] = last.by;
        centreBy[s] = last.by;
      }
  });
  // A wall that begins after a corner piece begins where the piece ends, and moves with it.
  const place = (s: number): Point => {
    const p = course.segments[s]!.from;
    const move = startBy[s]!;
    return isStill(move) ? p : { x: snap(p.x + move.x), y: snap(p.y + move.y) };
  };
  const vertices = course.vertices.map((v, k): Vertex => {
    const s = course.segmentAt[k]!;
    const p = place(s);
    if (course.vertexAt[s] !== k) return { ...v, x: p.x, y: p.y };
    const next = (s + 1) % count;
    return {
      ...v,
      x: p.x,
      y: p.y,
      bulge: bulgeAfter(
        course.segments[s]!,
        v.bulge,
        p,
        place(next),
        startBy[s]!,
        startBy[next]!,
        centreBy[s]!,
      ),
    };
  });
  return course.reversed ? reverseRing({ vertices }) : { vertices };
}

/** How a point inside a half round moves that takes up the change of its walls: with its radius. */
function stretched(arc: ArcSegment, p: Point, by: Point, end: Point): Point {
  const grown = distance(plus(arc.from, end), plus(arc.centre, by)) / arc.radius - 1;
  return { x: by.x + (p.x - arc.centre.x) * grown, y: by.y + (p.y - arc.centre.y) * grown };
}

/** How a point inside a broken wall moves: with a near end, else square with the wall. */
function brokenWallMove(
  wall: Wall,
  p: Point,
  by: Point,
  first: { readonly by: Point },
  last: { readonly by: Point },
): Point {
  const reach = Math.min(NEAR_END, wall.length / 3);
  if (distance(p, wall.from) <= reach) return first.by;
  if (distance(p, wall.to) <= reach) return last.by;
  return by;
}

/** The bulge of a segment whose ends have moved: an arc keeps its centre's place relative to `centre`'s move. */
function bulgeAfter(
  s: Segment,
  bulge: number,
  from: Point,
  to: Point,
  a: Point,
  b: Point,
  centre: Point | null,
): number {
  if (s.kind === 'line' || centre === null) return bulge;
  if (distance(a, b) === 0 && distance(a, centre) === 0) return bulge;
  return Math.tan(sweepAround(plus(s.centre, centre), from, to, s.sweep > 0 ? 'ccw' : 'cw') / 4);
}
