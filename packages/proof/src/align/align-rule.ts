import type { Finding, RuleResult } from '@haunch/model';
import { flat, mm } from '../rules/rule.js';
import type { Alignment } from './alignment.js';

/**
 * P22, asked where parts were found by alignment: no part is cut as its mirror image, every part of a drawing is
 * cut, and no piece that comes free matches nothing while a part of about its size is lacking. `all` are the parts that the program must cut.
 */
export function alignmentRule(
  { found, lacking, missed, strange }: Alignment,
  all: readonly string[] = [],
): RuleResult {
  const findings: Finding[] = [];
  for (const f of found)
    if (f.motion.mirror)
      findings.push({
        message: `${f.item} is cut unmirrored: its mirror image lies here.`,
        part: f.item,
        at: flat(f.part.outline.ring.vertices[0]!),
      });
  const none = lacking.filter((id) => all.includes(id) || missed.includes(id));
  for (const part of none) findings.push({ message: `${part} is not cut by this program.`, part });
  if (none.length > 0)
    for (const s of strange)
      findings.push({
        message: `A piece of ${mm(s.width)} × ${mm(s.height)} mm comes free that matches no part.`,
        at: flat(s.at),
      });
  return {
    rule: 'P22',
    title: 'Every piece is a part, the right way up',
    verdict: findings.length > 0 ? 'fail' : 'pass',
    margin: null,
    unit: 'mm',
    findings,
  };
}
