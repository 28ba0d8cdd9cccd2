import type { Part } from '@haunch/model';
import { cornerLimits } from './corner-pieces.js';
import { coursesOf } from './course.js';
import { facingPairs } from './facing.js';
import { stepsOf } from './steps.js';
import { type WallCourse, wallCourse } from './wall-course.js';

/** A width or depth in a part that could be a sheet's thickness. mm */
export interface Measure {
  readonly width: number;
  readonly what: 'slot' | 'step';
  readonly part: string;
}

/** Widths between these could be a sheet's thickness, mm. */
export const THINNEST = 2;
export const THICKEST = 45;

/** A slot's walls face each other over at least this share of its width: else it is the gap between two fingers. */
const FACING = 0.95;
/** In a closed cut of four walls less will do: a tongue may be narrower than it is thick. */
const FACING_CLOSED = 0.6;

/** Whether two walls at a distance bound a slot for a plate, by how far they face each other. */
export const isSlot = (w: WallCourse, width: number, overlap: number): boolean =>
  overlap >= width * (w.course.air === 1 && w.elements.length === 4 ? FACING_CLOSED : FACING);

/** Whether a step of an outline could be the depth of a projection: one of its levels is a wall worth the name. */
const isStep = (depth: number, before: number, after: number): boolean =>
  Math.max(before, after) >= depth * FACING;

/**
 * All widths of slots and depths of steps in the parts between 2 and 45 mm, reliefs thought away, in the order of
 * the parts. `scale` is the number of drawing units that make a millimetre; widths come back in mm.
 */
export function thicknessMeasures(parts: readonly Part[], scale = 1): Measure[] {
  const limits = cornerLimits(null, scale);
  const [least, widest] = [THINNEST * scale, THICKEST * scale];
  return parts.flatMap((p) =>
    coursesOf(p).flatMap(({ contour, air }) => {
      const w = wallCourse(p.id, contour, air, limits);
      const slots = facingPairs(w, { least, widest })
        .filter((f) => f.width >= least && isSlot(w, f.width, f.overlap))
        .map((f): Measure => ({ width: f.width / scale, what: 'slot', part: p.id }));
      if (air === 1) return slots;
      const length = (k: number): number => {
        const e = w.elements[k]!;
        return e.kind === 'wall' ? e.length : 0;
      };
      const steps = stepsOf(w)
        .filter(
          (s) => s.depth >= least && s.depth <= widest && isStep(s.depth, length(s.before), length(s.after)),
        )
        .map((s): Measure => ({ width: s.depth / scale, what: 'step', part: p.id }));
      return [...slots, ...steps];
    }),
  );
}
