import type { Finding } from '@haunch/model';
import { atSpot, mm, type Rule, worstSpots } from './rule.js';

/** P08: nothing is cut away from a part that belongs to it. */
export const gouges: Rule = {
  id: 'P08',
  title: 'No cut into a part beyond its contour',
  unit: 'mm',
  judge(j) {
    const findings = j.items.flatMap(({ judged }): Finding[] =>
      worstSpots(judged.gouges, 2 * j.mostRadius).map((s) =>
        atSpot(
          j,
          judged.item.item,
          s,
          `${mm(s.amount)} mm are cut into ${judged.item.item} at ${s.contour.id}.`,
          'first',
        ),
      ),
    );
    return { findings, margin: Math.min(j.tolerance, ...j.items.map((i) => i.judged.roomIn)) };
  },
};
