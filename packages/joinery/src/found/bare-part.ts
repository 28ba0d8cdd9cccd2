import { bulgeOfSegment, distance, type Ring, ringArea, type Vertex } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';
import { wallCoursesOf } from '../features/recognise-features.js';
import type { WallCourse } from '../features/wall-course.js';

/** Vertices nearer than this are one, mm. */
const ONE_PLACE = 1e-6;

/** The contour with sharp corners where reliefs are drawn, counter-clockwise; roundings and chamfers stay. */
function withoutDrawnReliefs({ course, elements, pieces }: WallCourse): Ring {
  const vertices: Vertex[] = [];
  const n = elements.length;
  const isRelief = (k: number): boolean => pieces[(k + n) % n]?.form.endsWith('relief') ?? false;
  elements.forEach((e, k) => {
    const first = course.segments[e.segments[0]!]!;
    if (e.kind === 'wall') vertices.push({ ...(isRelief(k - 1) ? e.from : first.from), bulge: 0 });
    else
      for (const i of e.segments) {
        const s = course.segments[i]!;
        vertices.push({ ...s.from, bulge: bulgeOfSegment(s) });
      }
    if (!isRelief(k))
      for (const i of pieces[k]?.segments ?? []) {
        const s = course.segments[i]!;
        vertices.push({ ...s.from, bulge: bulgeOfSegment(s) });
      }
  });
  return { vertices: vertices.filter((v, i) => distance(v, vertices.at(i - 1)!) > ONE_PLACE) };
}

/**
 * A part whose contours have the sharp corners that they were meant to have: reliefs that are drawn in inside corners
 * are taken out, since a job gives each corner its own. mm; `reliefs` counts what was taken out.
 */
export function barePart(part: Part): { readonly part: Part; readonly reliefs: number } {
  const courses = wallCoursesOf(part, part.thickness!);
  let reliefs = 0;
  const bared = <C extends Contour>(c: C, k: number): C => {
    const course = courses[k]!;
    const own = course.pieces.filter((p) => p?.form.endsWith('relief')).length;
    if (own === 0) return c;
    const ring = withoutDrawnReliefs(course);
    if (ring.vertices.length < 3 || !(ringArea(ring) > 0)) return c;
    reliefs += own;
    return { ...c, ring, bare: ring, reliefs: [] };
  };
  const outline = bared(part.outline, 0);
  const through = part.through.map((c, i) => bared(c, 1 + i));
  const pockets = part.pockets.map((c, i) => bared(c, 1 + part.through.length + i));
  return { part: { ...part, outline, through, pockets }, reliefs };
}
