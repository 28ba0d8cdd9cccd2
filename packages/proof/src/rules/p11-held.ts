import { type Finding, tabsWanted } from '@haunch/model';
import type { HeldItem, Judgement } from '../judgement.js';
import { tracksIn } from '../release.js';
import { flat, lineAt, mm, type Rule } from './rule.js';

/** The last line that cuts round an item at the height of tabs. */
function lastLine(j: Judgement, { judged }: HeldItem): number | undefined {
  const height = j.bottom + j.input.holding.tabHeight / 2;
  return tracksIn(j.stretches, judged.window, height).at(-1)?.line;
}

const withLine = (line: number | undefined) => (line === undefined ? {} : { line });

/** P11: every loose piece hangs on enough tabs to the end, slugs of through cuts too unless they are cut to chips. */
export const held: Rule = {
  id: 'P11',
  title: 'Every part and every slug is held to the end',
  unit: 'tabs',
  judge(j) {
    const { holding } = j.input;
    const findings: Finding[] = [];
    let margin = Infinity;
    const least = `at least ${mm(holding.tabWidth * 0.8)} mm wide and ${mm(holding.tabHeight * 0.5)} mm high`;
    for (const item of j.items) {
      const { judged, kerf, slugs } = item;
      const name = judged.item.item;
      const wanted = tabsWanted(holding, kerf.perimeter);
      const holds = kerf.strong.filter((b) => j.attachment.anchored(name, b));
      margin = Math.min(margin, holds.length - wanted);
      if (holds.length < wanted) {
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
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
