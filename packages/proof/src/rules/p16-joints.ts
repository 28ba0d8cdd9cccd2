import type { Finding, FitProof } from '@haunch/model';
import { mm, type Rule } from './rule.js';

function sentence(f: FitProof): string {
  const fit = `${f.kind} of ${f.enteringPart} in ${f.slotPart}`;
  if (f.verdict === 'unknown') return `The ${fit} could not be measured.`;
  if (f.verdict === 'blocked' && f.least !== null && f.wanted - f.standing < f.least)
    return `The ${fit} is blocked: ${mm(f.standing)} mm of material stand in a corner that the plate's arris must reach.`;
  const range = f.least === f.most ? mm(f.least!) : `${mm(f.least!)} … ${mm(f.most!)}`;
  return `The ${fit} is ${f.verdict}: clearance ${range} mm, wanted ${mm(f.wanted)} mm.`;
}

/** P16: every joint whose walls are on this board comes out as wanted. */
export const joints: Rule = {
  id: 'P16',
  title: 'Every joint is as wanted',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    let margin = Infinity;
    let failed = false;
    const windows = new Map(j.input.joints.flatMap((x) => x.fits.map((f) => [f.id, f.window] as const)));
    for (const joint of j.joints)
      for (const f of joint.fits) {
        const window = windows.get(f.fit);
        if (f.least !== null && f.most !== null && window)
          margin = Math.min(margin, f.least - window[0], window[1] - f.most);
        if (f.verdict === 'as wanted') continue;
        if (f.verdict !== 'unknown') failed = true;
        findings.push({
          message: sentence(f),
          ...(f.lines[0] === undefined ? {} : { line: f.lines[0] }),
          ...(f.programs?.[0] === undefined ? {} : { program: f.programs[0] }),
          part: f.slotPart,
          joint: joint.joint,
          jointDistance: 0,
          ...(f.least === null ? {} : { amount: f.least }),
        });
      }
    return {
      findings,
      margin: margin === Infinity ? null : margin,
      judged: j.joints.length > 0 && (failed || findings.length === 0),
    };
  },
};
