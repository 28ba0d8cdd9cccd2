import type { Finding } from '@haunch/model';
import { atStretch, mm, type Rule } from './rule.js';

/** P14: feeds and spindle speeds are within what the machine does. */
export const limits: Rule = {
  id: 'P14',
  title: "Feeds and speeds are within the machine's limits",
  unit: 'mm/min',
  judge(j) {
    const { maxFeed, maxRpm } = j.input.machine;
    const findings: Finding[] = [];
    let margin = maxFeed;
    let rpm = 0;
    for (const s of j.stretches) {
      if (s.kind !== 'rapid' && s.feed !== null) {
        margin = Math.min(margin, maxFeed - s.feed);
        if (s.feed > maxFeed + 1e-6)
          findings.push(
            atStretch(
              j,
              s,
              `A feed of ${mm(s.feed)} mm/min is more than the machine's ${mm(maxFeed)}.`,
              s.to,
              s.feed - maxFeed,
            ),
          );
      }
      if (Math.abs(s.spindle) > maxRpm && s.spindle !== rpm)
        findings.push(
          atStretch(
            j,
            s,
            `A spindle speed of ${mm(s.spindle)} rev/min is more than the machine's ${mm(maxRpm)}.`,
          ),
        );
      rpm = s.spindle;
    }
    return { findings, margin };
  },
};
