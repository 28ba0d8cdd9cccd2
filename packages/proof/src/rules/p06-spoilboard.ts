import type { Finding } from '@haunch/model';
import { lowest } from '../sweep/stretch.js';
import { atStretch, mm, type Rule } from './rule.js';

/** P06: no deeper into the bed than it is declared to take. */
export const spoilboard: Rule = {
  id: 'P06',
  title: 'No cut deeper into the bed than allowed',
  unit: 'mm',
  judge(j) {
    const floor = j.bottom - j.input.machine.spoilboard;
    const findings: Finding[] = [];
    let margin = Infinity;
    for (const s of j.stretches) {
      const over = lowest(s) - floor;
      margin = Math.min(margin, over);
      if (over < -1e-6)
        findings.push(
          atStretch(
            j,
            s,
            `The cutter goes ${mm(j.bottom - lowest(s))} mm into the bed; ${mm(j.input.machine.spoilboard)} mm are allowed.`,
            s.to,
            -over,
          ),
        );
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
