import { checkOverlaps } from '@haunch/joinery';
import type { Diagnostic, Master } from '@haunch/model';

/**
 * What keeps the plates of a job from standing where their frames put them. Every piece has a world of its own, so
 * that only parts of one piece are looked at together. `master` is that of the job, refitted to the real sheets.
 */
export const dryfitPieces = (
  standing: readonly (readonly string[])[],
  master: Master | null,
): Diagnostic[] => {
  if (!master) return [];
  return standing.flatMap((ids) => {
    const mine = new Set(ids);
    return checkOverlaps({
      ...master,
      parts: master.parts.filter((p) => mine.has(p.id)),
      mates: master.mates.filter((m) => mine.has(m.slotPart) && mine.has(m.enteringPart)),
      assembly: [],
    });
  });
};
