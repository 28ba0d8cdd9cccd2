import type { Finding } from '@haunch/model';
import { mm, type Rule } from './rule.js';

/** P17: the program ends by itself, with the cutter lifted and the spindle stopped. */
export const programEnd: Rule = {
  id: 'P17',
  title: 'The program ends lifted, with M2 or M30',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    const { end } = j.reading;
    const last = j.stretches[j.stretches.length - 1];
    if (end !== 'M2' && end !== 'M30')
      findings.push({
        message: 'The program does not end with M2 or M30, so nothing says that it is whole.',
        ...(last === undefined ? {} : { line: last.line }),
      });
    const margin = last === undefined ? null : last.to.z - j.safe;
    if (margin !== null && margin < -1e-6)
      findings.push({
        message: `The cutter is left at ${mm(last!.to.z)} mm, below the clearance height of ${mm(j.safe)} mm.`,
        line: last!.line,
      });
    return { findings, margin };
  },
};
