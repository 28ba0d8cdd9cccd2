import type { Outcome, Proof } from '@haunch/model';
import type { Judged } from './mutation-trial.js';

/** What a proof says of a program, as a mutation trial asks it: each failing rule with its first finding. mm */
export function judgedOf(proved: Outcome<{ readonly proof: Proof }>): Judged {
  if (!proved.ok) return { pass: false, reason: proved.diagnostics[0]!.code, deviation: Number.NaN };
  const { pass, rules, parts } = proved.value.proof;
  const failing = rules.filter((r) => r.verdict === 'fail');
  return {
    pass,
    reason: failing[0]?.rule ?? '',
    said: failing.map((r) => `${r.rule}: ${r.findings[0]?.message ?? ''}`).join('; '),
    deviation: Math.max(...parts.map((p) => Math.max(p.gouge, p.excess))),
  };
}
