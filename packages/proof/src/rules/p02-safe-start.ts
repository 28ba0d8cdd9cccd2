import type { Finding } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { mm, type Rule } from './rule.js';

/** G54 to G59.3 by number (NISTIR 6556, 3.5.13). */
const nameOf = (system: number): string => (system <= 6 ? `G${53 + system}` : `G59.${system - 6}`);

/** Where the program counts from another zero than the one that the machine has set. */
function strangeZeros({ reading: { system, zeros }, input: { machine } }: Judgement): Finding[] {
  const findings: Finding[] = [];
  const set = machine.workOffset ?? 1;
  const used = (number: number): boolean => number === set || number === machine.secondOffset;
  if (system !== null && !used(system.number))
    findings.push({
      message: `The program works in ${nameOf(system.number)}; the machine's origin is set in ${nameOf(set)}.`,
      line: system.line,
    });
  for (const zero of zeros) {
    if (zero.system !== null && !used(zero.system)) continue;
    const whose = zero.system === null ? 'its zero' : `the zero of ${nameOf(zero.system)}`;
    findings.push({
      message: `The program lays ${whose} itself (${zero.code}), not where the machine's origin is set.`,
      line: zero.line,
    });
  }
  return findings;
}

/** P02: units are said, and the cutter is lifted before it first travels. */
export const safeStart: Rule = {
  id: 'P02',
  title: 'Units are said and the first travel is above the sheet',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    const motions = j.reading.moves.flatMap((m) =>
      m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc' ? [m] : [],
    );
    const first = motions[0];
    if (first !== undefined && !j.reading.unitSeen)
      findings.push({
        message: 'The first motion comes before any word that says millimetres or inches.',
        line: first.line,
      });
    if (!j.input.zeroAnywhere) findings.push(...strangeZeros(j));
    const unsettled = (m: (typeof motions)[number]): boolean =>
      !m.fromKnown.x || !m.fromKnown.y || m.from.x !== m.to.x || m.from.y !== m.to.y;
    // A first motion in z alone leaves x and y as unknown as they were.
    const travel = motions.find((m) => (m.toKnown.x || m.toKnown.y) && unsettled(m));
    let margin: number | null = null;
    if (travel !== undefined) {
      if (!travel.fromKnown.z)
        findings.push({
          message: 'The cutter travels before the program has said its height.',
          line: travel.line,
        });
      else {
        margin = Math.min(travel.from.z, travel.to.z) - j.safe;
        if (margin < -1e-6)
          findings.push({
            message: `The first travel is at ${mm(Math.min(travel.from.z, travel.to.z))} mm, below the clearance height of ${mm(j.safe)} mm.`,
            line: travel.line,
            amount: -margin,
          });
      }
    }
    // Heights that the text leaves open later on, as after a move in machine coordinates.
    for (const m of motions)
      if (m !== travel && m.kind !== 'rapid' && (!m.toKnown.z || !m.fromKnown.z))
        findings.push({ message: 'The program does not settle the height of this cut.', line: m.line });
    return { findings, margin };
  },
};
