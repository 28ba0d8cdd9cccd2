import type { Finding } from '@haunch/model';
import { lowest } from '../sweep/stretch.js';
import { boxesMeet, boxOf } from '../sweep/sweeper.js';
import { atStretch, mm, type Rule } from './rule.js';

/** P04: rapids over the board stay above the clearance height; only straight up may be from below it. */
export const rapids: Rule = {
  id: 'P04',
  title: 'No rapid below clearance over the board',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    const box = boxOf([j.boardPolygon]);
    let margin = Infinity;
    for (const s of j.stretches) {
      if (s.kind !== 'rapid') continue;
      const up = s.from.x === s.to.x && s.from.y === s.to.y && s.to.z >= s.from.z;
      if (up || !boxesMeet(boxOf([[s.from, s.to]]), box, s.radius)) continue;
      const over = lowest(s) - j.safe;
      margin = Math.min(margin, over);
      if (over >= -1e-6) continue;
      const where =
        lowest(s) < j.top ? `${mm(j.top - lowest(s))} mm into the sheet` : `${mm(-over)} mm below clearance`;
      findings.push(atStretch(j, s, `A rapid runs ${where}.`, s.to, -over));
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
