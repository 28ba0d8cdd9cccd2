import { type ArcSegment, distance, type Point } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { type CornerLimits, type CornerPiece, findCornerPieces } from './corner-pieces.js';
import { type AirSide, type Course, courseOf, stretchesOf } from './course.js';

/** A straight wall of a contour between its sharp corners; reliefs, roundings and chamfers are thought away. mm */
export interface Wall {
  readonly kind: 'wall';
  readonly from: Point;
  readonly to: Point;
  /** Unit vector along it, counter-clockwise round the contour. */
  readonly ux: number;
  readonly uy: number;
  readonly length: number;
  /** Segments of the course that lie on it. */
  readonly segments: readonly number[];
  /** What they are called. */
  readonly names: readonly string[];
}

/** An arc that is no corner piece. */
export interface Bend {
  readonly kind: 'bend';
  readonly segments: readonly number[];
  readonly arc: ArcSegment;
  readonly names: readonly string[];
}

/** A contour as walls and bends with, between an element and the next, the corner or what is drawn in it. */
export interface WallCourse {
  readonly course: Course;
  readonly elements: readonly (Wall | Bend)[];
  /** Piece `i` stands between elements `i` and `i + 1`; null where they meet in a plain corner. */
  readonly pieces: readonly (DrawnCorner | null)[];
}

/** A corner piece with its segments. */
export interface DrawnCorner {
  readonly form: CornerPiece['form'];
  readonly segments: readonly number[];
  readonly corner: Point;
  readonly size: number;
}

/** What a contour consists of, given what can be a corner piece. */
export function wallCourse(part: string, contour: Contour, air: AirSide, limits: CornerLimits): WallCourse {
  const course = courseOf(part, contour, air);
  const stretches = stretchesOf(course);
  const found = findCornerPieces(course, stretches, limits);
  const hidden = new Set(found.flatMap((p) => p.between));
  const starting = new Map(found.map((p) => [p.before, p]));
  const ending = new Map(found.map((p) => [p.after, p]));
  const elements: (Wall | Bend)[] = [];
  const pieces: (DrawnCorner | null)[] = [];
  stretches.forEach((s, k) => {
    if (hidden.has(k)) return;
    const names = s.segments.map((i) => course.names[i]!);
    const piece = starting.get(k);
    if (s.arc !== null) elements.push({ kind: 'bend', segments: s.segments, arc: s.arc, names });
    else if (s.line !== null) {
      const from = ending.get(k)?.corner ?? s.line.from;
      const to = piece?.corner ?? s.line.to;
      const drawn = distance(s.line.from, s.line.to);
      elements.push({
        kind: 'wall',
        from,
        to,
        ux: (s.line.to.x - s.line.from.x) / drawn,
        uy: (s.line.to.y - s.line.from.y) / drawn,
        length: distance(from, to),
        segments: s.segments,
        names,
      });
    }
    pieces.push(
      piece
        ? {
            form: piece.form,
            segments: piece.between.flatMap((b) => stretches[b]!.segments),
            corner: piece.corner,
            size: piece.size,
          }
        : null,
    );
  });
  return { course, elements, pieces };
}

/** How far wall `b` lies from wall `a` along a's left normal; the walls must be parallel. mm */
export function wallDistance(a: Wall, b: Wall): number {
  const mid = { x: (b.from.x + b.to.x) / 2, y: (b.from.y + b.to.y) / 2 };
  return a.ux * (mid.y - a.from.y) - a.uy * (mid.x - a.from.x);
}

/** The stretch that two parallel walls have beside each other. mm */
export function overlapOf(a: Wall, b: Wall): number {
  const along = (p: Point): number => (p.x - a.from.x) * a.ux + (p.y - a.from.y) * a.uy;
  const [p, q] = [along(b.from), along(b.to)];
  return Math.min(a.length, Math.max(p, q)) - Math.max(0, Math.min(p, q));
}

/** Directions that differ by less than this sine are parallel. */
export const PARALLEL = 1e-3;

/** 1 for walls that run alike, −1 against each other, 0 where they are not parallel. */
export function sameRun(a: Wall, b: Wall): -1 | 0 | 1 {
  if (Math.abs(a.ux * b.uy - a.uy * b.ux) > PARALLEL) return 0;
  return a.ux * b.ux + a.uy * b.uy > 0 ? 1 : -1;
}
