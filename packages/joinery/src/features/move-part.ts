import { distance, type Point, snap } from '@haunch/geometry';
import type { Contour, Diagnostic, Part } from '@haunch/model';
import { tooDeep } from '../diagnostics.js';
import { cornerLimits } from './corner-pieces.js';
import { type MovedRing, moveWalls } from './move-walls.js';
import { type Changed, refitProblems } from './refit-problems.js';
import { type WallCourse, wallCourse } from './wall-course.js';

/** A part after its walls have moved; where there are problems, as it was. */
export interface MovedPart {
  readonly part: Part;
  /** How many corners moved. */
  readonly moved: number;
  readonly rings: ReadonlyMap<string, MovedRing>;
  readonly problems: readonly Diagnostic[];
}

/** What else a move needs to know. mm */
export interface PartMove {
  readonly thickness: number | null;
  /** The thickness that decides what can be a relief. */
  readonly limit: number;
  /** The least web. */
  readonly least: number;
  /** Features that follow on an element of a contour. */
  readonly followed: (course: number, element: number) => readonly string[];
  /** Moves of bends that are known, by contour and element. */
  readonly bends?: readonly (readonly (Point | null)[])[];
}

/** The part after each wall has moved by its own offset (mm along its left normal, by contour and element). */
export function movePartWalls(
  part: Part,
  courses: readonly WallCourse[],
  offsets: readonly (readonly number[])[],
  { thickness, limit, least, followed, bends }: PartMove,
): MovedPart {
  const unmoved = { ...part, thickness };
  const rings = new Map<string, MovedRing>();
  const problems: Diagnostic[] = [];
  const contours = contoursOf(part).map((contour, i): Changed => {
    const walls = courses[i]!;
    const by = offsets[i]!.map(clean);
    const changed = { before: contour, walls, by, followed: (k: number) => followed(i, k) };
    const arcs = bends?.[i] ?? [];
    if (by.every((o) => o === 0) && arcs.every((b) => b === null)) return { ...changed, after: contour };
    const moved = moveWalls(walls, by, changed.followed, arcs);
    problems.push(...moved.problems);
    rings.set(contour.id, moved);
    return { ...changed, after: contourAfter(contour, walls, by, moved, limit) };
  });
  if (problems.length === 0) problems.push(...refitProblems(part, contours, least));
  if (thickness !== null)
    for (const f of [...part.pockets, ...part.holes])
      if (f.depth !== 'through' && f.depth >= thickness)
        problems.push(tooDeep(f.depth, thickness, { part: part.id, feature: f.id }));
  if (problems.length > 0) return { part: unmoved, moved: 0, rings, problems };
  const through = part.through.length;
  return {
    part: {
      ...unmoved,
      outline: contours[0]!.after,
      through: contours.slice(1, 1 + through).map((c) => c.after),
      pockets: part.pockets.map((pocket, k) => ({ ...pocket, ...contours[1 + through + k]!.after })),
    },
    moved: contours.reduce((n, c) => n + movedVertices(c), 0),
    rings,
    problems,
  };
}

const contoursOf = (p: Part): readonly Contour[] => [p.outline, ...p.through, ...p.pockets];

/** Offsets that are only rounding are none. */
const clean = (o: number): number => (Math.abs(o) < 1e-9 ? 0 : o);

const movedVertices = ({ before, after }: Changed): number =>
  before.ring.vertices.filter(
    (v, i) => v.x !== after.ring.vertices[i]!.x || v.y !== after.ring.vertices[i]!.y,
  ).length;

/** The contour with its moved ring; where it knows its reliefs, they and the bare curve move along. */
function contourAfter(
  contour: Contour,
  walls: WallCourse,
  by: readonly number[],
  moved: MovedRing,
  limit: number,
): Contour {
  const { ring } = moved;
  if (contour.bare === contour.ring && contour.reliefs.length === 0) return { ...contour, ring, bare: ring };
  const offsetOf = new Map(walls.elements.flatMap((e, k) => e.names.map((name) => [name, by[k]!] as const)));
  const bareContour: Contour = { ...contour, ring: contour.bare, reliefs: [] };
  const bareWalls = wallCourse(walls.course.part, bareContour, walls.course.air, cornerLimits(limit));
  const bareBy = bareWalls.elements.map((e) => offsetOf.get(e.names[0]!) ?? 0);
  const bare = moveWalls(bareWalls, bareBy, () => []).ring;
  const reliefs = contour.reliefs.map((r) => {
    const corner = moved.corners.find((c) => distance(c.corner, r.corner) <= 0.01);
    if (!corner) return r;
    const shifted = (p: { x: number; y: number }) => ({
      x: snap(p.x + corner.by.x),
      y: snap(p.y + corner.by.y),
    });
    return { ...r, corner: shifted(r.corner), centre: shifted(r.centre) };
  });
  return { ...contour, ring, bare, reliefs };
}
