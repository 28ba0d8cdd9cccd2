import type { Cutter, Diagnostic, Joint } from '@haunch/model';
import { cutterWiderThanSlot } from './diagnostics.js';

/** Cutters may be wider than a slot by less than this: nothing that a pass would show. mm */
const NOTHING = 1e-6;

/**
 * Slots that no router of the job gets into: known before anything is relieved or laid, which would fail for reasons that follow from it.
 * One for each slot; `thicknesses` of the entering plates by part id, mm.
 */
export function widerThanSlots(
  joints: readonly Joint[],
  thicknesses: Readonly<Record<string, number>>,
  cutters: readonly Pick<Cutter, 'id' | 'kind' | 'diameter'>[],
): Diagnostic[] {
  const [first, ...more] = cutters.filter((c) => c.kind === 'router');
  if (first === undefined) return [];
  const thinnest = more.reduce((a, b) => (b.diameter < a.diameter ? b : a), first);
  const told = new Set<string>();
  return joints.flatMap((j) =>
    j.fits.flatMap((f): Diagnostic[] => {
      const plate = f.local ?? thicknesses[f.enteringPart];
      const square = f.kind === 'thickness' && f.walls.length === 2 && f.lean === undefined;
      if (!square || plate === undefined || thinnest.diameter <= plate + f.wanted + NOTHING) return [];
      const slot = `${f.contour} ${f.walls.join(' ')}`;
      if (told.has(slot)) return [];
      told.add(slot);
      return [
        cutterWiderThanSlot(thinnest, plate + f.wanted, {
          part: f.slotPart,
          feature: f.contour,
          joint: j.id,
        }),
      ];
    }),
  );
}
