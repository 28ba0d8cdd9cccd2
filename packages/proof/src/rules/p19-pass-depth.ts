import type { Finding, Place } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { lowest, placeAt, type Stretch, stretchLength } from '../sweep/stretch.js';
import { insidePolygon } from '../sweep/sweeper.js';
import { trackBelow, trackDistance } from '../sweep/track.js';
import { atStretch, mm, type Rule } from './rule.js';

/** A pass may be this much deeper than the cutter is said to bear. */
const LEEWAY = 1.1;
/** Places along a pass are asked at most this far apart, mm. */
const STEP = 20;
/** Depths that are one, mm. */
const FINEST = 0.002;

/** The first place along a way where nothing before it has cut down to a height: one for all, or by the place. */
export function untouched(j: Judgement, s: Stretch, depth: number | ((place: Place) => number)) {
  const index = j.field.at(j.levels[j.levels.length - 1]!.at);
  const n = Math.max(2, Math.ceil(stretchLength(s) / STEP));
  for (let i = 1; i <= n; i++) {
    const p = placeAt(s, i / n);
    if (!insidePolygon(j.boardPolygon, p)) continue;
    const height = typeof depth === 'number' ? depth : depth(p);
    if (height >= j.top) continue;
    const cut = index.somePass(p, (t) => {
      const earlier = t.index < s.index ? j.stretches[t.index] : undefined;
      if (earlier === undefined || lowest(earlier) > height) return false;
      const below = trackBelow(earlier, height);
      return below !== null && trackDistance(below, p.x, p.y) <= below.radius;
    });
    if (!cut) return p;
  }
  return undefined;
}

/** A hole is drilled straight when its end lies no farther from its start than this, mm: rounding of a program's figures. */
const STRAIGHT = 0.01;

/** Where a drill is led sideways through standing material. */
function sideways(j: Judgement, s: Stretch) {
  if (lowest(s) >= j.top - 1e-6) return undefined;
  const below = trackBelow(s, j.top - 1e-6 + s.point);
  if (
    below === null ||
    (below.kind === 'line' && Math.hypot(below.b.x - below.a.x, below.b.y - below.a.y) <= STRAIGHT)
  )
    return undefined;
  return untouched(j, s, lowest(s) + FINEST);
}

/** P19: no level pass takes more of the sheet at once than its cutter bears. */
export const passDepth: Rule = {
  id: 'P19',
  title: 'No pass deeper at once than the cutter bears',
  unit: '',
  judge(j) {
    const most = new Map(j.input.cutters.map((c) => [c.number, c.depthPerPass]));
    const findings: Finding[] = [];
    for (const s of j.stretches) {
      if (s.kind === 'rapid') continue;
      if (s.drill) {
        const at = sideways(j, s);
        if (at !== undefined)
          findings.push(atStretch(j, s, 'A drill cuts on its way down alone; here it is led sideways.', at));
        continue;
      }
      if (s.from.z !== s.to.z || s.from.z >= j.top) continue;
      const depth = s.tool === null ? j.assumed?.depthPerPass : most.get(s.tool);
      if (depth === undefined) continue;
      // What lies below the sheet is no load.
      const height = Math.max(s.to.z, j.bottom) + depth * LEEWAY;
      if (height >= j.top - 1e-6) continue;
      const at = untouched(j, s, height);
      if (at !== undefined)
        findings.push(
          atStretch(
            j,
            s,
            `The cutter takes more than ${mm(depth * LEEWAY)} mm at once; it bears ${mm(depth)} mm.`,
            at,
          ),
        );
    }
    return { findings, margin: null };
  },
};
