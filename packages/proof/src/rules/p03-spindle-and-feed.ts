import type { Finding } from '@haunch/model';
import { lowest } from '../sweep/stretch.js';
import { atStretch, type Rule } from './rule.js';

/** P03: no cut with the spindle stopped or turning backwards, no motion at feed without a feed. */
export const spindleAndFeed: Rule = {
  id: 'P03',
  title: 'Every cut has a turning spindle and a feed',
  unit: '',
  judge(j) {
    const findings: Finding[] = [];
    for (const s of j.stretches) {
      if (s.kind !== 'rapid' && (s.feed === null || !(s.feed > 0)))
        findings.push(atStretch(j, s, 'This motion has no feed.'));
      if (lowest(s) >= j.top || (s.kind === 'rapid' && s.to.z > s.from.z)) continue;
      if (s.spindle === 0)
        findings.push(atStretch(j, s, 'The cutter is in the sheet while the spindle stands still.'));
      else if (s.spindle < 0)
        findings.push(atStretch(j, s, 'The cutter is in the sheet while the spindle turns backwards.'));
    }
    return { findings, margin: null };
  },
};
