import type { Finding } from '@haunch/model';
import { lowest } from '../sweep/stretch.js';
import { atStretch, mm, type Rule } from './rule.js';

/** P15: every tool that is called is described, and one is in hand before the first cut. */
export const tool: Rule = {
  id: 'P15',
  title: 'Every tool is known and in hand before it cuts',
  unit: '',
  judge(j) {
    const known = new Set(j.input.cutters.map((c) => c.number));
    const findings: Finding[] = [];
    for (const m of j.reading.moves)
      if (m.kind === 'tool-change') {
        if (m.tool === null)
          findings.push({ message: 'A tool change does not say which tool.', line: m.line });
        else if (m.tool !== 0 && !known.has(m.tool))
          findings.push({ message: `Tool ${m.tool} is not described.`, line: m.line });
      }
    let height: number | null = null;
    for (const m of j.reading.moves)
      if ('to' in m) height = m.toKnown.z ? m.to.z : null;
      else if (m.kind === 'tool-change' && height !== null && height < j.safe - 1e-6)
        findings.push({
          message: `The cutter is changed at ${mm(height)} mm, below the clearance height of ${mm(j.safe)} mm.`,
          line: m.line,
          amount: j.safe - height,
        });
    for (const d of j.reading.diagnostics)
      if (d.code === 'nc/length-of-another-tool')
        findings.push({ message: d.message, ...(d.locus.line === undefined ? {} : { line: d.locus.line }) });
    if (j.assumed !== null)
      return {
        findings: [
          ...findings,
          { message: `The text names no tool; the only one described, ${j.assumed.id}, is taken.` },
        ],
        margin: null,
        judged: findings.length > 0,
      };
    const first = j.stretches.find((s) => lowest(s) < j.top && (s.tool === null || s.tool === 0));
    if (first !== undefined) findings.push(atStretch(j, first, 'The sheet is cut with no tool in hand.'));
    return { findings, margin: null };
  },
};
