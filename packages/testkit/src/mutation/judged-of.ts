import type { Outcome, Proof, RuleResult } from '@haunch/model';
import type { Judged } from './mutation-trial.js';

const saying = (r: RuleResult): string => `${r.rule}: ${r.findings[0]?.message ?? ''}`;

/**
 * What a proof says of a program, as a mutation trial asks it: each failing rule with its first finding, or only the first
 * where the proof ended there. mm
 */
export function judgedOf(
  proved: Outcome<{ readonly proof: Proof } | { readonly refused: RuleResult }>,
): Judged {
  if (!proved.ok) return { pass: false, reason: proved.diagnostics[0]!.code, deviation: Number.NaN };
  if ('refused' in proved.value) {
    const { refused } = proved.value;
    return { pass: false, reason: refused.rule, said: saying(refused), deviation: Number.NaN };
  }
  const { pass, rules, parts } = proved.value.proof;
  const failing = rules.filter((r) => r.verdict === 'fail');
  return {
    pass,
    reason: failing[0]?.rule ?? '',
    said: failing.map(saying).join('; '),
    deviation: Math.max(...parts.map((p) => Math.max(p.gouge, p.excess))),
  };
}
