import { indexBoxes } from '@haunch/geometry';
import { overlapOf, sameRun, type Wall, type WallCourse, wallDistance } from './wall-course.js';

/** Two walls of a contour that face each other across air, nothing between them; elements by number, a < b. mm */
export interface Facing {
  readonly a: number;
  readonly b: number;
  readonly width: number;
  readonly overlap: number;
}

/** Walls at distances that differ by less than this are equally near, mm. */
const ALIKE = 0.01;

/** The distance across air from `a` to `b`, if they face each other for half of the shorter one; else null. */
function across(a: Wall, b: Wall, air: number): { width: number; overlap: number } | null {
  if (sameRun(a, b) !== -1) return null;
  const width = air * wallDistance(a, b);
  const overlap = overlapOf(a, b);
  return width > 0 && overlap >= Math.min(a.length, b.length) / 2 ? { width, overlap } : null;
}

/**
 * Pairs of walls no further apart than `widest` that face each other across the contour's air, each the other's
 * nearest. Walls that are shorter than half of `least` are none. Order n log n.
 */
export function facingPairs(
  { elements, course }: WallCourse,
  { least, widest }: { readonly least: number; readonly widest: number },
): Facing[] {
  const walls = elements.flatMap((e, k) => (e.kind === 'wall' && e.length >= least / 2 ? [{ k, w: e }] : []));
  if (walls.length < 2) return [];
  const boxes = walls.map(({ w }) => ({
    minX: Math.min(w.from.x, w.to.x),
    minY: Math.min(w.from.y, w.to.y),
    maxX: Math.max(w.from.x, w.to.x),
    maxY: Math.max(w.from.y, w.to.y),
  }));
  const index = indexBoxes(boxes);
  const seen = walls.map(({ w }, i) => {
    const [nx, ny] = [-w.uy * course.air * widest, w.ux * course.air * widest];
    const { minX, minY, maxX, maxY } = boxes[i]!;
    const out: { j: number; width: number; overlap: number }[] = [];
    index.search(
      {
        minX: Math.min(minX, minX + nx) - ALIKE,
        minY: Math.min(minY, minY + ny) - ALIKE,
        maxX: Math.max(maxX, maxX + nx) + ALIKE,
        maxY: Math.max(maxY, maxY + ny) + ALIKE,
      },
      (j) => {
        const found = j === i ? null : across(w, walls[j]!.w, course.air);
        if (found !== null && found.width <= widest) out.push({ j, ...found });
        return false;
      },
    );
    return out;
  });
  const nearest = seen.map((list) => list.reduce((m, s) => Math.min(m, s.width), Infinity));
  return seen.flatMap((list, i) =>
    list
      .filter((s) => s.j > i && s.width <= nearest[i]! + ALIKE && s.width <= nearest[s.j]! + ALIKE)
      .sort((p, q) => p.j - q.j)
      .map((s) => ({ a: walls[i]!.k, b: walls[s.j]!.k, width: s.width, overlap: s.overlap })),
  );
}
