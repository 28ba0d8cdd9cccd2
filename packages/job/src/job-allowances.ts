import { type Allowances, defaultAllowances } from '@haunch/joinery';
import type { Job } from './job.js';

/** What settles the clearances: the family's usual ones, by which parts are laid out, or what the job's ladder says. */
export type AllowanceBasis = 'usual' | 'ladder';

/** The allowances that the job's fit asks for, mm. */
export function allowancesOf(job: Job, basis: AllowanceBasis): Allowances {
  const { family, clearance, ends, seat, perJoint } = job.settings.fit;
  const felt = basis === 'ladder' && job.ladder.kind === 'felt' ? job.ladder.reading[family] : undefined;
  const usual = defaultAllowances(family, felt ?? clearance);
  return {
    ...usual,
    ends: ends === undefined ? usual.ends : { ...usual.ends, wanted: ends },
    seat: seat === undefined ? usual.seat : { ...usual.seat, wanted: seat },
    perJoint: Object.fromEntries(
      Object.entries(perJoint).map(([joint, wanted]) => [
        joint,
        { thickness: defaultAllowances(family, wanted).thickness },
      ]),
    ),
  };
}
