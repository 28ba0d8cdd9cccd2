import { flattenRing } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import { lowest } from '../sweep/stretch.js';
import { boxesMeet, boxOf } from '../sweep/sweeper.js';
import { trackBelow } from '../sweep/track.js';
import { trackPolygonDistance } from '../sweep/track-polygon.js';
import { atStretch, mm, type Rule } from './rule.js';

/** P07: below clearance no cutter touches an area to keep out of, whatever stands there. */
export const keepOuts: Rule = {
  id: 'P07',
  title: 'No cutter in an area to keep out of',
  unit: 'mm',
  judge(j) {
    const areas = j.input.board.keepOuts.map((r) => flattenRing(r, { tolerance: 0.005 }));
    const findings: Finding[] = [];
    let margin = Infinity;
    for (const s of j.stretches) {
      if (areas.length === 0 || lowest(s) >= j.safe - 1e-6) continue;
      const t = trackBelow(s, j.safe - 1e-6);
      if (t === null) continue;
      const r = t.kind === 'arc' ? t.r : 0;
      const c = t.kind === 'arc' ? t.centre : t.a;
      const around = boxOf([[t.a, t.b, { x: c.x - r, y: c.y - r }, { x: c.x + r, y: c.y + r }]]);
      for (const area of areas) {
        if (!boxesMeet(around, boxOf([area]), t.radius + 20)) continue;
        const room = trackPolygonDistance(t, area) - t.radius;
        margin = Math.min(margin, room);
        if (room < -1e-6)
          findings.push(
            atStretch(j, s, `The cutter enters an area to keep out of by ${mm(-room)} mm.`, s.to, -room),
          );
      }
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
