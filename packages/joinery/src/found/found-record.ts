import type { FoundRecord, Master } from '@haunch/model';
import type { FoundMarks } from '../marks/find-marks.js';
import { type Plate, plateOf } from '../plate.js';
import { nearContacts } from './near-contacts.js';

/** What touches, mm. */
const TOUCHING = 0.001;

/** The contours of plates by which they touch another. */
function touchingContours(plates: readonly Plate[]): Set<string> {
  const out = new Set<string>();
  plates.forEach((a, i) => {
    for (const b of plates.slice(i + 1))
      for (const c of nearContacts(a, b, TOUCHING)) {
        out.add(c.edge.contour);
        if ('edge' in c.on) out.add(c.on.edge.contour);
        else if (c.on.side.tag.endsWith('/floor')) out.add(c.on.side.tag.slice(0, -'/floor'.length));
      }
  });
  return out;
}

/** Cuts, recesses and holes that touch no other part, and the marks that they go with. */
function freeFeatures(master: Master, found: FoundMarks['found']): FoundRecord['free'] {
  const touching = touchingContours(master.parts.map(plateOf));
  return master.parts.flatMap((p) =>
    [...p.through, ...p.pockets, ...p.holes]
      .filter((f) => !touching.has(f.id))
      .map(({ id }) => {
        const own = found.filter((m) => m.edge === id || m.edge.startsWith(`${id}/`));
        return { feature: id, follows: [...new Set(own.flatMap((m) => m.mark ?? []))].sort() };
      }),
  );
}

/** The record of how a master was found: what was answered, how sure each mate is, and why each edge follows. */
export const foundRecord = (
  { master, found }: FoundMarks,
  known: Omit<FoundRecord, 'reasons' | 'free'>,
): FoundRecord => ({
  ...known,
  reasons: found.map((m) => ({ edge: m.edge, mark: m.mark, reason: m.reason, with: m.with })),
  free: freeFeatures(master, found),
});
