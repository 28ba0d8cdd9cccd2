import type { Feature } from '@haunch/model';
import { figure } from './candidate.js';
import type { WallCourse } from './wall-course.js';

/** Ends whose sweep differs from half a turn by less are half round, rad. */
const HALF_ROUND = 0.05;
/** Of the confidence of a slot, this is left to a guide. */
const GUIDE = 0.4;

/** Whether a closed cut is two walls with a half round at either end, as for a bolt or a peg that slides. */
export const isHalfRoundEnded = ({ course, elements, pieces }: WallCourse): boolean =>
  course.air === 1 &&
  elements.length === 4 &&
  pieces.every((p) => p === null) &&
  elements.filter((e) => e.kind === 'bend' && Math.abs(e.arc.sweep - Math.PI) < HALF_ROUND).length === 2;

/**
 * Half-round ended slots do not follow where the drawing has slots with square ends for the same thickness: a plate
 * has square edges, and who draws square ends for plates draws round ones for something else. Where all slots of a
 * thickness have round ends, they follow as drawn.
 */
export function withoutGuides(
  features: readonly Feature[],
  halfRoundEnded: ReadonlySet<string>,
): readonly Feature[] {
  const round = (f: Feature): boolean => f.kind === 'slot' && halfRoundEnded.has(`${f.part}|${f.contour}`);
  const square = new Set(
    features.filter((f) => f.kind === 'slot' && f.follows && !round(f)).map((f) => f.thickness),
  );
  return features.map((f) =>
    round(f) && square.has(f.thickness)
      ? {
          ...f,
          follows: false,
          confidence: Math.min(f.confidence, GUIDE),
          reasons: [
            ...f.reasons,
            `its ends are half round where other slots for ${figure(f.thickness)} mm end square, as of a guide for a bolt or a peg`,
          ],
        }
      : f,
  );
}
