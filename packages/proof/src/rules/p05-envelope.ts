import { segmentBounds } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import { type Stretch, withinReason } from '../sweep/stretch.js';
import { atStretch, mm, type Rule } from './rule.js';

const boundsOf = (s: Stretch) =>
  segmentBounds(
    s.centre === null
      ? { kind: 'line', from: s.from, to: s.to }
      : {
          kind: 'arc',
          from: s.from,
          to: s.to,
          centre: s.centre,
          radius: Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y),
          sweep: s.sweep,
        },
  );

/** P05: the cutter's tip stays within the machine's reach. */
export const envelope: Rule = {
  id: 'P05',
  title: "Everything lies within the machine's reach",
  unit: 'mm',
  judge(j) {
    const { x, y, z } = j.input.machine.envelope;
    const findings: Finding[] = [];
    let margin = Infinity;
    for (const s of j.stretches) {
      const b = boundsOf(s);
      const room = [
        ['X', b.minX - x[0]],
        ['X', x[1] - b.maxX],
        ['Y', b.minY - y[0]],
        ['Y', y[1] - b.maxY],
        ['Z', Math.min(s.from.z, s.to.z) - z[0]],
        ['Z', z[1] - Math.max(s.from.z, s.to.z)],
      ] as const;
      const worst = room.reduce((a, c) => (c[1] < a[1] ? c : a));
      margin = Math.min(margin, worst[1]);
      if (!withinReason(s))
        findings.push(atStretch(j, s, 'The cutter leaves the reach of any machine for sheets.'));
      else if (worst[1] < -1e-6)
        findings.push(
          atStretch(
            j,
            s,
            `The cutter leaves the machine's reach in ${worst[0]} by ${mm(-worst[1])} mm.`,
            s.to,
            -worst[1],
          ),
        );
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
