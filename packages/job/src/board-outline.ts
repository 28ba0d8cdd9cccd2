import {
  counterClockwise,
  fillsItsBox,
  type Point,
  pointInRing,
  type Ring,
  rectangleRing,
  ring,
  ringBounds,
  ringProblems,
  snap,
  type Vertex,
} from '@haunch/geometry';
import { type Board, type Diagnostic, fail, type Locus, type Outcome, ok } from '@haunch/model';
import { largestEmptyRectangle, missingOf } from '@haunch/nesting';
import type { JobBoard } from './job-schema.js';
import {
  boardOutlineArc,
  boardOutlineCrosses,
  boardOutlineFlat,
  boardOutlineSize,
} from './programs/diagnostics.js';

/** How far the box round an outline may be from the width and height that are written, mm: sizes are taken with a tape. */
const TAPE = 0.5;

/** A place nearer than this to the line between the ends of an arc, mm, makes it a straight line or none. */
const STRAIGHT = 1e-4;

/**
 * The bulge of the arc from one place to another through a third: the inscribed angle there is half a turn less half of the sweep.
 * Undefined where no arc runs so. Source: Euclid, Elements III, 20 and 22.
 */
export function bulgeThrough(from: Point, through: Point, to: Point): number | undefined {
  const [ax, ay, bx, by] = [from.x - through.x, from.y - through.y, to.x - through.x, to.y - through.y];
  const cross = ax * by - ay * bx;
  const dot = ax * bx + ay * by;
  const chord = Math.hypot(to.x - from.x, to.y - from.y);
  if (chord < STRAIGHT || Math.min(Math.hypot(ax, ay), Math.hypot(bx, by)) < STRAIGHT) return undefined;
  if (Math.abs(cross) / chord < STRAIGHT) return dot < 0 ? 0 : undefined;
  const angle = Math.atan2(Math.abs(cross), dot);
  // An arc to the right of its chord turns counter-clockwise.
  return -Math.sign(cross) / Math.tan(angle / 2);
}

/** Whether all corners lie on one line and no edge is an arc. */
function isFlat(vertices: readonly Vertex[]): boolean {
  const [a] = vertices;
  if (!a || vertices.some((v) => v.bulge !== 0)) return false;
  const far = (v: Point): number => Math.hypot(v.x - a.x, v.y - a.y);
  const b = vertices.reduce((p, q) => (far(q) > far(p) ? q : p));
  const off = (v: Point): number => Math.abs((b.x - a.x) * (v.y - a.y) - (b.y - a.y) * (v.x - a.x));
  return vertices.every((v) => off(v) <= STRAIGHT * far(b));
}

/** Whether a board is a rectangle that fills its box. */
export const isWhole = ({ outline }: Pick<Board, 'outline'>): boolean => fillsItsBox(outline);

/** The outline of a board of a job: a rectangle where none is written. mm. Fails for one that is none, or is not as wide and high as it says. */
export function outlineOf(
  { id, width, height, outline }: JobBoard,
  locusOf: (path: readonly PropertyKey[]) => Locus,
): Outcome<Ring> {
  const whole = rectangleRing(0, 0, snap(width), snap(height));
  if (outline === undefined) return ok(whole);
  const at = (i: number): Point => {
    const corner = outline[i % outline.length]!;
    const [x, y] = Array.isArray(corner) ? corner : corner.at;
    return { x: snap(x), y: snap(y) };
  };
  const wrong: Diagnostic[] = [];
  const vertices = outline.map((corner, i): Vertex => {
    if (Array.isArray(corner)) return { ...at(i), bulge: 0 };
    const [x, y] = corner.through;
    const bulge = bulgeThrough(at(i), { x, y }, at(i + 1));
    if (bulge === undefined) wrong.push(boardOutlineArc(id, [x, y], locusOf(['outline', i, 'through'])));
    return { ...at(i), bulge: bulge ?? 0 };
  });
  if (wrong.length > 0) return fail(...wrong);
  if (isFlat(vertices)) return fail(boardOutlineFlat(id, locusOf(['outline'])));
  const drawn = ring(vertices);
  const [problem] = ringProblems(drawn);
  if (problem)
    return fail(
      problem.kind === 'zero-area'
        ? boardOutlineFlat(id, locusOf(['outline']))
        : boardOutlineCrosses(id, problem.at, locusOf(['outline', problem.segments[0]?.[0] ?? 0])),
    );
  const box = ringBounds(drawn);
  const off = Math.max(
    Math.abs(box.minX),
    Math.abs(box.minY),
    Math.abs(box.maxX - width),
    Math.abs(box.maxY - height),
  );
  return off > TAPE
    ? fail(boardOutlineSize(id, box, [width, height], locusOf(['outline'])))
    : ok(counterClockwise(drawn));
}

/** Where a board's thickness is checked when it is loaded: its middle, or that of the largest rectangle on one that is none. mm */
export function checkedAt({ outline }: Pick<Board, 'outline'>): Point {
  const box = ringBounds(outline);
  const room = isWhole({ outline }) ? box : (largestEmptyRectangle(box, missingOf(outline)) ?? box);
  return { x: (room.minX + room.maxX) / 2, y: (room.minY + room.maxY) / 2 };
}

/** Steps of the grid over which something is taken of a board that is no rectangle. */
const STEPS = 24;

/** Places spread evenly over a board that is no rectangle, and its corners. mm */
export function placesOn(outline: Ring): Point[] {
  const { minX, minY, maxX, maxY } = ringBounds(outline);
  const spread = Array.from({ length: STEPS * STEPS }, (_, k) => ({
    x: minX + ((maxX - minX) * ((k % STEPS) + 0.5)) / STEPS,
    y: minY + ((maxY - minY) * (Math.floor(k / STEPS) + 0.5)) / STEPS,
  })).filter((p) => pointInRing(outline, p) === 'inside');
  return [...spread, ...outline.vertices.map(({ x, y }) => ({ x, y }))];
}
