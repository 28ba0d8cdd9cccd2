import type { Finding } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { lowest, type Stretch } from '../sweep/stretch.js';
import { insidePolygon } from '../sweep/sweeper.js';
import { type Track, trackBelow, trackDistance } from '../sweep/track.js';
import { atStretch, type Rule } from './rule.js';

/** An entry may be this much steeper than the cutter is said to bear. */
const LEEWAY = 1.5;
/** A program's step of height, mm: a ten-thousandth of an inch. */
const HEIGHT_STEP = 0.00254;
/** Off a tab, which is only as deep as a tab is high, this slope is borne. Common practice, no source. */
const OFF_TAB = Math.PI / 4 + 0.01;

/** An angle in degrees, to a hundredth: finer slopes are the rounding of a program's figures. */
const degrees = (angle: number): number => Math.round((angle * 18000) / Math.PI) / 100;

/** Whether the disc at the end of a descent meets material that nothing before it has removed. */
function intoStock(j: Judgement, s: Stretch): boolean {
  const height = s.to.z + 0.001;
  const places = [s.to];
  for (const share of [0.5, 0.95])
    for (let k = 0; k < 12; k++) {
      const a = (Math.PI * 2 * k) / 12;
      places.push({
        x: s.to.x + s.radius * share * Math.cos(a),
        y: s.to.y + s.radius * share * Math.sin(a),
        z: s.to.z,
      });
    }
  const index = j.field.at(j.levels[j.levels.length - 1]!.at);
  const before: Track[] = [];
  index.somePass(s.to, (t) => {
    const earlier = t.index < s.index ? j.stretches[t.index] : undefined;
    const below = earlier === undefined ? null : trackBelow(earlier, height);
    if (below !== null) before.push(below);
    return false;
  });
  return places.some(
    (p) =>
      insidePolygon(j.boardPolygon, p) && !before.some((t) => trackDistance(t, p.x, p.y) <= t.radius + 1e-6),
  );
}

/** P18: a router goes into the sheet along a slope that it bears, never straight down. */
export const entry: Rule = {
  id: 'P18',
  title: 'No steeper entry than the cutter bears',
  unit: '°',
  judge(j) {
    const slopes = new Map(j.input.cutters.map((c) => [c.number, c.rampAngle]));
    const findings: Finding[] = [];
    let margin: number | null = null;
    // What goes no deeper than edges may be off only grazes the face.
    const face = j.top - Math.max(HEIGHT_STEP, j.tolerance);
    for (const s of j.stretches) {
      if (s.kind === 'rapid' || s.drill || s.to.z >= s.from.z || lowest(s) >= face) continue;
      const angle = s.tool === null ? j.assumed?.rampAngle : slopes.get(s.tool);
      if (angle === undefined) continue;
      const fall = s.from.z - s.to.z;
      const r = s.centre === null ? 0 : Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
      const way =
        s.centre === null ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : r * Math.abs(s.sweep);
      const tab = s.from.z <= j.bottom + j.input.holding.tabHeight + 0.05;
      const borne = Math.max(angle * LEEWAY, tab ? OFF_TAB : 0);
      // Of a short chord the rounding of its ends to a step is no slope.
      const slope = Math.atan2(Math.max(0, fall - HEIGHT_STEP), way);
      const room = degrees(borne - slope);
      // Most descents are as steep as one that is known already.
      if ((room >= 0 && margin !== null && room >= margin) || !intoStock(j, s)) continue;
      margin = Math.min(margin ?? room, room);
      if (room < 0)
        findings.push(
          atStretch(
            j,
            s,
            `The cutter goes into standing material at ${degrees(slope)}°; ${degrees(borne)}° are borne.`,
            s.to,
            -room,
          ),
        );
    }
    return { findings, margin };
  },
};
