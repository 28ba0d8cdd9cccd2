import { type Allowances, defaultAllowances, type JointAllowances } from '@haunch/joinery';
import type { Master } from '@haunch/model';
import { equalKnock, fitExtras, matesTogether, widened } from './fit-extras.js';
import type { Job } from './job.js';

/** What settles the clearances: the family's usual ones, by which parts are laid out, or what the job's ladder says. */
export type AllowanceBasis = 'usual' | 'ladder';

/**
 * The allowances that the job's fit asks for, mm: the family's aim (or the ladder's), ends and seats, single joints, what finish,
 * sanding and moisture will change, and with `knock: "equal"` more room where several joints go home in one move.
 */
export function allowancesOf(job: Job, basis: AllowanceBasis, master: Master | null = null): Allowances {
  const { family, clearance, ends, seat, perJoint, knock } = job.settings.fit;
  const felt = basis === 'ladder' && job.ladder.kind === 'felt' ? job.ladder.reading[family] : undefined;
  const extras = fitExtras(job.settings.fit, master?.designThickness ?? 18);
  const chosen = defaultAllowances(family, felt ?? clearance);
  const usual: JointAllowances = {
    thickness: widened(chosen.thickness, extras.thickness),
    ends: widened(ends === undefined ? chosen.ends : { ...chosen.ends, wanted: ends }, extras.ends),
    seat: seat === undefined ? chosen.seat : { ...chosen.seat, wanted: seat },
  };
  const crowded: Record<string, Partial<JointAllowances>> = {};
  if (knock === 'equal' && master)
    for (const [mate, together] of matesTogether(master))
      if (together > 1) crowded[mate] = { thickness: equalKnock(usual.thickness, together) };
  const single = Object.fromEntries(
    Object.entries(perJoint).map(([joint, wanted]) => [
      joint,
      { thickness: widened(defaultAllowances(family, wanted).thickness, extras.thickness) },
    ]),
  );
  return { ...usual, perJoint: { ...crowded, ...single } };
}
