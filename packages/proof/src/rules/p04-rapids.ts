import type { Finding } from '@haunch/model';
import { lowest, type Stretch } from '../sweep/stretch.js';
import { boxesMeet, boxOf } from '../sweep/sweeper.js';
import { atStretch, mm, type Rule } from './rule.js';

/** Where a cutter goes straight down. */
const placeOf = (s: Stretch): string => `${s.from.x} ${s.from.y} ${s.tool}`;
const isStraight = (s: Stretch): boolean => s.from.x === s.to.x && s.from.y === s.to.y;

/**
 * P04: rapids over the board stay above the clearance height; only straight up may be from below it, and straight down into the
 * hole that the same cutter has just made, as a cycle that pecks comes back (NISTIR 6556, 3.5.16.3).
 */
export const rapids: Rule = {
  id: 'P04',
  title: 'No rapid below clearance over the board',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    const box = boxOf([j.boardPolygon]);
    let margin = Infinity;
    const bored = new Map<string, number>();
    for (const s of j.stretches) {
      if (s.kind !== 'rapid') {
        const place = placeOf(s);
        if (isStraight(s) && s.to.z < (bored.get(place) ?? Infinity)) bored.set(place, s.to.z);
        continue;
      }
      const up = isStraight(s) && s.to.z >= s.from.z;
      const back =
        isStraight(s) && s.from.z >= j.safe - 1e-6 && s.to.z >= (bored.get(placeOf(s)) ?? Infinity);
      if (up || back || !boxesMeet(boxOf([[s.from, s.to]]), box, s.radius)) continue;
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
