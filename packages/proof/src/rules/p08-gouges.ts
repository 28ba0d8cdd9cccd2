import type { Finding } from '@haunch/model';
import type { Spot } from '../deviation.js';
import { atSpot, mm, type Rule, worstSpots } from './rule.js';

const told = (item: string, { amount, contour, under }: Spot): string => {
  if (under === 'face') return `The face of ${item} is cut ${mm(amount)} mm deep where it shall stand.`;
  if (under === 'floor') return `${contour.id} of ${item} is cut ${mm(amount)} mm below its floor.`;
  return `${mm(amount)} mm are cut into ${item} at ${contour.id}.`;
};

/** P08: nothing is cut away from a part that belongs to it. */
export const gouges: Rule = {
  id: 'P08',
  title: 'No cut into a part beyond its contour',
  unit: 'mm',
  judge(j) {
    const findings = j.items.flatMap(({ judged }): Finding[] =>
      worstSpots(judged.gouges, 2 * j.mostRadius).map((s) =>
        atSpot(j, judged.item.item, s, told(judged.item.item, s), 'first'),
      ),
    );
    return { findings, margin: Math.min(j.tolerance, ...j.items.map((i) => i.judged.roomIn)) };
  },
};
