import { type Point, ringBounds, snap } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok, type Part, settle } from '@haunch/model';
import { tooFar } from '../change-limit.js';
import { changeTooFar, inPart, pairNothing, pairOdd, pairSameThickness, pairUnlike } from './diagnostics.js';
import { matchElements, turnOf } from './match-elements.js';
import { movePartWalls } from './move-part.js';
import { wallCoursesOf } from './recognise-features.js';
import type { Bend, Wall, WallCourse } from './wall-course.js';

/** A drawing of a design for one thickness. mm */
export interface DrawnFor {
  readonly parts: readonly Part[];
  readonly thickness: number;
}

/** What follows thickness in one part: how far per mm of thickness. Edges that stay are absent. */
export interface LearntPart {
  readonly part: string;
  /** Straight edges by name, along their left normal walking counter-clockwise; mostly whole or half numbers. */
  readonly edges: Readonly<Record<string, number>>;
  /** Centres of arcs, by the name of the edge. */
  readonly arcs: Readonly<Record<string, Point>>;
  /** Centres of round holes by id. */
  readonly holes: Readonly<Record<string, Point>>;
}

/** What two drawings of one design at two thicknesses teach. Plain data. */
export interface LearntFollowing {
  /** The thickness of the first drawing, which is what is refitted. mm */
  readonly thickness: number;
  readonly parts: readonly LearntPart[];
}

/** Drawings for thicknesses nearer than this teach nothing, mm. */
const LEAST_CHANGE = 0.05;
/** Moves smaller than this are rounding, mm. */
const UNMOVED = 6e-4;
/** A rate this near to a whole or half number is meant to be it. */
const NEAR_HALF = 0.02;
/** Radii that differ by less are one, mm. */
const SAME_RADIUS = 0.005;

/** A wall of the first drawing with how far its counterpart lies from it along its normal, before aligning. */
interface Moved {
  readonly wall: Pick<Wall, 'ux' | 'uy' | 'length'>;
  readonly far: number;
}

/** An arc of the first drawing with how far the centre of its counterpart lies from its own, before aligning. */
interface MovedArc {
  readonly bend: Bend;
  readonly far: Point;
}

/**
 * Learns from two drawings of one design which straight edges and holes follow thickness, and how. Parts correspond by
 * id, else by form; each may lie elsewhere and turned in the second drawing. Of the ways in which a part can be laid
 * over its counterpart, the one that leaves most of its edges in place and moves the others by whole or half
 * thicknesses is taken. Warned of by name: parts without a counterpart, edges that move by another measure.
 * @throws RangeError for a thickness that is not positive and finite.
 */
export function learnFromTwo(first: DrawnFor, second: DrawnFor): Outcome<LearntFollowing> {
  for (const { thickness } of [first, second])
    if (!(thickness > 0 && thickness < Infinity))
      throw new RangeError(`learnFromTwo: thickness ${thickness} must be positive`);
  const change = second.thickness - first.thickness;
  if (Math.abs(change) < LEAST_CHANGE) return fail(pairSameThickness(first.thickness, second.thickness, {}));
  const said: Diagnostic[] = [];
  const free = [...second.parts];
  const parts = first.parts.flatMap((part): LearntPart[] => {
    const own = free.filter((p) => p.id === part.id);
    const candidates = [...own, ...free.filter((p) => p.id !== part.id && sameSize(part, p, change))];
    for (const other of candidates) {
      const learnt = learnPart(part, first.thickness, other, second.thickness, said);
      if (!learnt) continue;
      free.splice(free.indexOf(other), 1);
      return [learnt];
    }
    const why =
      own.length > 0 ? 'its contours differ by more than lengths' : 'none of its id and none of its form';
    said.push(pairUnlike(part.id, why, { part: part.id }));
    return [];
  });
  if (parts.length === 0) return fail(pairNothing({}), ...said);
  return ok({ thickness: first.thickness, parts }, said);
}

/** Whether two outlines are as large as one another but for some thicknesses. */
function sameSize(a: Part, b: Part, change: number): boolean {
  const diagonal = (p: Part): number => {
    const { minX, minY, maxX, maxY } = ringBounds(p.outline.ring);
    return Math.hypot(maxX - minX, maxY - minY);
  };
  return Math.abs(diagonal(a) - diagonal(b)) <= 6 * Math.abs(change);
}

function learnPart(
  a: Part,
  thicknessA: number,
  b: Part,
  thicknessB: number,
  said: Diagnostic[],
): LearntPart | null {
  const change = thicknessB - thicknessA;
  const [coursesA, coursesB] = [wallCoursesOf(a, thicknessA), wallCoursesOf(b, thicknessB)];
  if (coursesA.length !== coursesB.length || a.through.length !== b.through.length) return null;
  const outline = matchElements(coursesA[0]!, coursesB[0]!);
  if (!outline) return null;
  const turn = turnOf(coursesA[0]!, coursesB[0]!, outline.pairs);
  if (turn === null) return null;
  const [c, s] = [Math.cos(-turn), Math.sin(-turn)];
  const back = (p: Point): Point => ({ x: c * p.x - s * p.y, y: s * p.x + c * p.y });
  const matched = matchCourses(coursesA, coursesB, back);
  if (!matched) return null;
  const pairs = matched.flatMap(({ course, other, pairs: of }) =>
    course.elements.map((e, i) => ({ e, f: other.elements[of[i]!]! })),
  );
  const walls = pairs.flatMap(({ e, f }) =>
    e.kind === 'wall' && f.kind === 'wall' ? [{ wall: e, far: farBetween(e, f, back) }] : [],
  );
  // An arc that changes its radius is no arc that moves: its neighbours decide.
  const arcs = pairs.flatMap(({ e, f }): MovedArc[] => {
    if (e.kind !== 'bend' || f.kind !== 'bend' || Math.abs(e.arc.radius - f.arc.radius) > SAME_RADIUS)
      return [];
    const there = back(f.arc.centre);
    return [{ bend: e, far: { x: there.x - e.arc.centre.x, y: there.y - e.arc.centre.y } }];
  });
  const shift = bestShift([...walls, ...arcs.flatMap(asWalls)], change);
  const rateOf = (by: number, name: string, at: Point): number => {
    if (Math.abs(by) <= UNMOVED) return 0;
    const rate = by / change;
    const half = Math.round(2 * rate) / 2;
    if (Math.abs(rate - half) <= Math.max(NEAR_HALF, UNMOVED / Math.abs(change))) return half;
    said.push(pairOdd(name, by, change, inPart(a.id, a.id, { x: snap(at.x), y: snap(at.y) })));
    return Number(rate.toFixed(6));
  };
  const edges: Record<string, number> = {};
  for (const { wall, far } of walls) {
    const rate = rateOf(far - along(wall, shift), wall.names[0]!, wall.from);
    if (rate !== 0) for (const name of wall.names) edges[name] = rate;
  }
  const centres: Record<string, Point> = {};
  for (const { bend, far } of arcs) {
    const [name, at] = [bend.names[0]!, bend.arc.from];
    const rate = { x: rateOf(far.x - shift.x, name, at), y: rateOf(far.y - shift.y, name, at) };
    // Kept where it stays as well: an arc with a moving neighbour would go along unless told otherwise.
    for (const n of bend.names) centres[n] = rate;
  }
  return { part: a.id, edges, arcs: centres, holes: holesOf(a, b, back, shift, change) };
}

const along = (wall: Pick<Wall, 'ux' | 'uy'>, p: Point): number => -wall.uy * p.x + wall.ux * p.y;

/** An arc as two walls, which weigh as much as it is long when drawings are laid over each other. */
const asWalls = ({ bend, far }: MovedArc): Moved[] => {
  const length = (bend.arc.radius * Math.abs(bend.arc.sweep)) / 2;
  return [
    { wall: { ux: 1, uy: 0, length }, far: far.y },
    { wall: { ux: 0, uy: 1, length }, far: -far.x },
  ];
};

/** How far the counterpart's line lies from a wall, along the wall's left normal. */
function farBetween(wall: Wall, other: Wall, back: (p: Point) => Point): number {
  const [p, q] = [back(other.from), back(other.to)];
  const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
  return along(wall, { x: mid.x - wall.from.x, y: mid.y - wall.from.y });
}

interface MatchedCourse {
  readonly course: WallCourse;
  readonly other: WallCourse;
  readonly pairs: readonly number[];
}

/** Each contour with its counterpart: the outlines, then cuts and pockets, each with the nearest of its form. */
function matchCourses(
  a: readonly WallCourse[],
  b: readonly WallCourse[],
  back: (p: Point) => Point,
): MatchedCourse[] | null {
  const centre = (w: WallCourse, map: (p: Point) => Point): Point => {
    const { vertices } = w.course;
    const sum = vertices.map(map).reduce((m, p) => ({ x: m.x + p.x, y: m.y + p.y }), { x: 0, y: 0 });
    return { x: sum.x / vertices.length, y: sum.y / vertices.length };
  };
  const same = (p: Point): Point => p;
  const [originA, originB] = [centre(a[0]!, same), centre(b[0]!, back)];
  const free = new Set(b);
  const out: MatchedCourse[] = [];
  for (const [i, course] of a.entries()) {
    const here = centre(course, same);
    const candidates = (i === 0 ? [b[0]!] : [...free].filter((w) => w !== b[0]))
      .flatMap((other) => {
        const m = matchElements(course, other);
        if (!m) return [];
        const there = centre(other, back);
        const far = Math.hypot(
          there.x - originB.x - here.x + originA.x,
          there.y - originB.y - here.y + originA.y,
        );
        return [{ other, pairs: m.pairs, far }];
      })
      .sort((p, q) => p.far - q.far || (p.other.course.contour < q.other.course.contour ? -1 : 1));
    const [best] = candidates;
    if (!best) return null;
    free.delete(best.other);
    out.push({ course, other: best.other, pairs: best.pairs });
  }
  return out;
}

/** The shift of the second drawing that leaves most in place, by length, and moves the rest by half thicknesses. */
function bestShift(moved: readonly Moved[], change: number): Point {
  const classes: Moved[] = [];
  for (const m of [...moved].sort((p, q) => q.wall.length - p.wall.length)) {
    const known = classes.some(
      (k) =>
        Math.abs(k.wall.ux * m.wall.uy - k.wall.uy * m.wall.ux) < 1e-3 &&
        Math.abs(k.far * (k.wall.ux * m.wall.ux + k.wall.uy * m.wall.uy) - m.far) <= UNMOVED,
    );
    if (!known) classes.push(m);
  }
  let best: { shift: Point; score: number } | null = null;
  for (const [i, p] of classes.entries())
    for (const q of classes.slice(i + 1)) {
      const det = p.wall.ux * q.wall.uy - p.wall.uy * q.wall.ux;
      if (Math.abs(det) < 0.1) continue;
      // The point whose components along both normals are what these two walls have moved by.
      const shift = {
        x: (q.wall.ux * p.far - p.wall.ux * q.far) / det,
        y: (q.wall.uy * p.far - p.wall.uy * q.far) / det,
      };
      const score = moved.reduce((sum, m) => {
        const rate = (m.far - along(m.wall, shift)) / change;
        const slack = Math.max(NEAR_HALF, UNMOVED / Math.abs(change));
        if (Math.abs(rate) <= slack) return sum + m.wall.length;
        return (
          sum +
          (Math.abs(2 * rate - Math.round(2 * rate)) <= 2 * slack && Math.abs(rate) <= 3
            ? m.wall.length / 2
            : 0)
        );
      }, 0);
      if (best === null || score > best.score + 1e-6) best = { shift, score };
    }
  return best?.shift ?? { x: 0, y: 0 };
}

/** Holes whose counterparts, nearest after aligning, have moved. */
function holesOf(
  a: Part,
  b: Part,
  back: (p: Point) => Point,
  shift: Point,
  change: number,
): Record<string, Point> {
  const out: Record<string, Point> = {};
  const free = [...b.holes];
  for (const h of a.holes) {
    const gap = (o: (typeof free)[number]): Point => {
      const p = back(o.centre);
      return { x: p.x - shift.x - h.centre.x, y: p.y - shift.y - h.centre.y };
    };
    const [best] = free
      .filter((o) => Math.abs(o.diameter - h.diameter) <= 0.01)
      .map((o) => ({ o, by: gap(o) }))
      .sort((p, q) => Math.hypot(p.by.x, p.by.y) - Math.hypot(q.by.x, q.by.y) || (p.o.id < q.o.id ? -1 : 1));
    if (!best || Math.hypot(best.by.x, best.by.y) > 4 * Math.abs(change)) continue;
    free.splice(free.indexOf(best.o), 1);
    if (Math.hypot(best.by.x, best.by.y) <= UNMOVED) continue;
    const rate = (v: number): number => Math.round((2 * v) / change) / 2;
    if (rate(best.by.x) !== 0 || rate(best.by.y) !== 0)
      out[h.id] = { x: rate(best.by.x), y: rate(best.by.y) };
  }
  return out;
}

/**
 * The parts of the first drawing at a third thickness, by what was learnt: straight edges and holes move in proportion
 * to the change, corners are met again, what is drawn in them travels along. Parts nothing was learnt of stay as drawn.
 * Guarantees: the first thickness gives the first drawing; the second one the second drawing, where it lies as the
 * first does. Refused like `refitByFeatures`.
 * @throws RangeError for a thickness that is not positive and finite.
 */
export function refitAsLearnt(
  parts: readonly Part[],
  learnt: LearntFollowing,
  to: number,
  { leastWeb = 2 }: { readonly leastWeb?: number } = {},
): Outcome<readonly Part[]> {
  if (!(to > 0 && to < Infinity)) throw new RangeError(`refitAsLearnt: thickness ${to} must be positive`);
  const change = to - learnt.thickness;
  if (change === 0) return ok(parts);
  if (tooFar(learnt.thickness, to)) return fail(changeTooFar(learnt.thickness, to, {}));
  const problems: Diagnostic[] = [];
  const known = new Map(learnt.parts.map((p) => [p.part, p]));
  const refitted = parts.map((part): Part => {
    const rates = known.get(part.id);
    if (!rates) return part;
    const courses = wallCoursesOf(part, learnt.thickness);
    const offsets = courses.map(({ elements }) =>
      elements.map((e) => (rates.edges[e.names[0]!] ?? 0) * change),
    );
    const moved = movePartWalls(part, courses, offsets, {
      thickness: part.thickness === learnt.thickness ? to : part.thickness,
      limit: learnt.thickness,
      least: leastWeb,
      followed: (course, element) => [courses[course]!.elements[element]!.names[0]!],
      bends: courses.map(({ elements }) =>
        elements.map((e) => {
          const rate = e.kind === 'bend' ? rates.arcs[e.names[0]!] : undefined;
          return rate ? { x: rate.x * change, y: rate.y * change } : null;
        }),
      ),
    });
    problems.push(...moved.problems);
    const holes = moved.part.holes.map((h) => {
      const rate = rates.holes[h.id];
      if (!rate) return h;
      return {
        ...h,
        centre: { x: snap(h.centre.x + rate.x * change), y: snap(h.centre.y + rate.y * change) },
      };
    });
    return { ...moved.part, holes };
  });
  return settle(refitted, problems);
}
