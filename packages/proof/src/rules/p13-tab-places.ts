import { pointSegmentDistance } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import { longestTab } from '../bridges.js';
import { flat, lineAt, type Rule } from './rule.js';

/** P13: tabs stand where no other plate comes, as what is left of them would keep the joint open. */
export const tabPlaces: Rule = {
  id: 'P13',
  title: 'No tab on an edge that meets another part',
  unit: '',
  judge(j) {
    const findings: Finding[] = [];
    const longest = longestTab(j.input.holding);
    for (const { judged, kerf, slugs } of j.items)
      for (const k of [kerf, ...slugs.map((g) => g.kerf)])
        for (const b of k.any) {
          // Where nothing is cut there is no tab; P09 says so.
          if (b.length > longest) continue;
          const joints = new Set<string>();
          for (const p of b.polygon) {
            let tag: string | undefined;
            let gap = Infinity;
            for (const s of k.contour.segments) {
              const d = pointSegmentDistance(s, p);
              if (d < gap) [gap, tag] = [d, s.tag];
            }
            if (tag !== undefined)
              for (const joint of j.place.jointsOf(judged.item.part.id, tag)) joints.add(joint);
          }
          const [joint] = [...joints].sort();
          if (joint === undefined) continue;
          const line = lineAt(j, b.at, j.levels[0]!);
          findings.push({
            message: `A tab of ${judged.item.item} stands on an edge that meets another part.`,
            ...(line === undefined ? {} : { line }),
            part: judged.item.item,
            feature: k.contour.id,
            joint,
            jointDistance: 0,
            at: flat(b.at),
          });
        }
    return { findings, margin: null };
  },
};
