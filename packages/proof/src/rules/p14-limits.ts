import type { Finding } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { lowest, type Stretch } from '../sweep/stretch.js';
import { untouched } from './p19-pass-depth.js';
import { atStretch, mm, type Rule } from './rule.js';

/** A tooth may take this many times the chip that its cutter is said to bear. Common practice, no source. */
const MOST_LOAD = 2;
/** A feed in inches is rounded when it is written; less than this above the limit is that, mm/min. */
const FEED_ROUNDING = 0.5;
/** Depths that are one, mm. */
const FINEST = 0.002;

/** What each tooth of the cutter takes along a way, and what it bears, mm; null where either is not known. */
function toothLoad(j: Judgement, s: Stretch): { readonly takes: number; readonly bears: number } | null {
  const cutter = j.input.cutters.find((c) => c.number === (s.tool ?? j.assumed?.number));
  if (cutter === undefined || s.drill || s.feed === null || s.spindle <= 0) return null;
  return { takes: s.feed / (s.spindle * cutter.flutes), bears: cutter.chipLoad };
}

/** P14: feeds and spindle speeds are within what the machine does and the cutter bears. */
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
        const over = s.feed - maxFeed;
        margin = Math.min(margin, over > 0 && over <= FEED_ROUNDING ? 0 : -over);
        if (over > FEED_ROUNDING)
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
      // What goes no deeper than edges may be off only grazes the face.
      const tooth = s.kind === 'rapid' || lowest(s) >= j.top - j.tolerance ? null : toothLoad(j, s);
      if (tooth !== null && tooth.takes > MOST_LOAD * tooth.bears) {
        // On a slope the cutter stands higher than where it is lowest: over a tab it cuts no tab.
        const at = untouched(j, s, ({ z }) => z + FINEST);
        if (at !== undefined) {
          margin = Math.min(margin, s.feed! * ((MOST_LOAD * tooth.bears) / tooth.takes - 1));
          findings.push(
            atStretch(
              j,
              s,
              `Each tooth takes ${mm(tooth.takes)} mm here; the cutter bears ${mm(tooth.bears)} mm, twice that at the most.`,
              at,
              tooth.takes - tooth.bears,
            ),
          );
        }
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
