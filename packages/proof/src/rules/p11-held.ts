import { ringArea } from '@haunch/geometry';
import { type Finding, tabsWanted } from '@haunch/model';
import { type Kerf, longestTab } from '../bridges.js';
import type { HeldItem, Judgement } from '../judgement.js';
import { releaseOf, tracksIn } from '../release.js';
import { lowest } from '../sweep/stretch.js';
import { untouched } from './p19-pass-depth.js';
import { atStretch, flat, lineAt, mm, type Rule } from './rule.js';

/** The last line that cuts round an item at the height of tabs. */
function lastLine(j: Judgement, { judged }: HeldItem): number | undefined {
  const height = j.bottom + j.input.holding.tabHeight / 2;
  return tracksIn(j.stretches, judged.window, height).at(-1)?.line;
}

const withLine = (line: number | undefined) => (line === undefined ? {} : { line });

/** Above its skin a later cut reaches by more than this, mm. */
const SKIN_LEEWAY = 0.05;

/** Where a skin holds: pieces go last, when all else is cut down to the skin, and the smallest first. */
function skinFindings(j: Judgement, skin: number): Finding[] {
  const freed = j.items
    .flatMap(({ judged }) => {
      const after = releaseOf(j.input.clip, j.stretches, {
        window: judged.window,
        inside: judged.inside,
        underside: j.bottom + 0.0005,
      });
      return after === null ? [] : [{ judged, after, area: ringArea(judged.contours[0]!.ring) }];
    })
    .sort((a, b) => a.after - b.after);
  const findings: Finding[] = [];
  const [first] = freed;
  if (first === undefined) return findings;
  const late = j.stretches.flatMap((s): Finding[] => {
    if (s.index <= first.after || s.kind === 'rapid' || lowest(s) >= j.top - 1e-6) return [];
    const at = untouched(j, s, j.bottom + skin + SKIN_LEEWAY);
    const name = first.judged.item.item;
    return at === undefined
      ? []
      : [atStretch(j, s, `More than the skin is cut here after ${name} has been freed.`, at)];
  });
  findings.push(...late.slice(0, 1));
  freed.forEach(({ judged, area, after }, i) => {
    const larger = freed.slice(0, i).find((f) => f.area > area + 1);
    if (larger === undefined) return;
    findings.push({
      message: `${judged.item.item} is freed after ${larger.judged.item.item}, which is larger: the smallest goes first.`,
      ...withLine(j.stretches[after]?.line),
      ...j.place.at(judged.inside, { item: judged.item.item, contour: judged.contours[0]!.id }),
      at: flat(judged.inside),
    });
  });
  return findings;
}

/** P11: every loose piece hangs on enough tabs to the end, slugs of through cuts too unless they are cut to chips. */
export const held: Rule = {
  id: 'P11',
  title: 'Every part and every slug is held to the end',
  unit: 'tabs',
  judge(j) {
    const { holding } = j.input;
    const findings: Finding[] = [];
    let margin = Infinity;
    const longest = longestTab(holding);
    const least = `at least ${mm(holding.tabWidth * 0.8)} mm wide and ${mm(holding.tabHeight * 0.5)} mm high`;
    for (const item of j.items) {
      const { judged, kerf, slugs } = item;
      const name = judged.item.item;
      const fast = (k: Kerf): boolean => k.any.some((b) => b.length > longest);
      const wanted = tabsWanted(holding, kerf.perimeter);
      const holds = kerf.strong.filter((b) => j.attachment.anchored(name, b));
      // What is not cut round holds, and is P09's to tell.
      if (!fast(kerf)) margin = Math.min(margin, holds.length - wanted);
      if (!fast(kerf) && holds.length < wanted) {
        const thin = kerf.any.length - kerf.strong.length;
        const apart = kerf.strong.length - holds.length;
        const but = [
          thin > 0 ? `${thin} more ${thin === 1 ? 'is' : 'are'} too thin` : '',
          apart > 0 ? `${apart} more ${apart === 1 ? 'leads' : 'lead'} to waste that is loose itself` : '',
        ].filter((t) => t !== '');
        findings.push({
          message: `${name} hangs on ${holds.length} of ${wanted} tabs ${least}${but.length > 0 ? `; ${but.join(', ')}` : ''}.`,
          ...withLine(lastLine(j, item)),
          ...j.place.at(judged.inside, { item: name, contour: kerf.contour.id }),
          feature: kerf.contour.id,
          at: flat(judged.inside),
          amount: wanted - holds.length,
        });
      }
      for (const { kerf: k, left, loose } of slugs) {
        if (loose.length === 0 && fast(k)) continue;
        const need = tabsWanted(holding, k.perimeter);
        const have = loose.length > 0 ? 0 : k.strong.length;
        margin = Math.min(margin, have - need);
        if (have >= need) continue;
        const at = left[0]!.outer[0]!;
        findings.push({
          message:
            loose.length > 0
              ? `A piece of ${mm(loose[0]!.area)} mm² in ${k.contour.id} of ${name} comes loose.`
              : `The piece left in ${k.contour.id} of ${name} hangs on ${have} of ${need} tabs ${least}.`,
          ...withLine(lineAt(j, at, j.levels[0]!)),
          ...j.place.at(at, { item: name, contour: k.contour.id }),
          at: flat(at),
          amount: need - have,
        });
      }
    }
    if (holding.skin !== undefined) {
      findings.push(...skinFindings(j, holding.skin.thickness));
      return { findings, margin: null };
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
