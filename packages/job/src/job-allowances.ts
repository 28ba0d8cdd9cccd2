import { snap } from '@haunch/geometry';
import type { Allowance, Allowances, JointAllowances } from '@haunch/joinery';
import type { Master, MasterMate } from '@haunch/model';
import { equalKnock, fitExtras, matesTogether, widened } from './fit-extras.js';
import { fitCell } from './fit-table.js';
import type { NumberSource } from './fit-table-schema.js';
import type { Job } from './job.js';
import { feltFor } from './ladder-of-job.js';

/** What settles the clearances: the family's usual ones, by which parts are laid out, or what the job's ladders say. */
export type AllowanceBasis = 'usual' | 'ladder';

/** Which material a part is cut from, by part id; null where nothing says it yet. */
export type MaterialOf = (part: string) => string | null;

/** How the clearance of a joint's plate in its slot came about. mm; the parts sum to `wanted`. */
export interface JointAim {
  readonly joint: string;
  /** The material of the slot. */
  readonly material: string | null;
  /** What the family asks for in this material: the ladder's felt clearance, the job's own, or the table's. */
  readonly family: number;
  readonly basis: 'ladder' | 'job' | 'table';
  /** Where the table's figure comes from. */
  readonly source: NumberSource;
  /** What the table gives this type of joint more than any joint in this material. */
  readonly forType: number;
  /** The joint's own wish: more or less than its family. */
  readonly wish: number;
  /** For finish, sanding and moisture. */
  readonly extras: number;
  /** What equal knock adds, because so many joints go home in one move. */
  readonly knock: number;
  readonly together: number;
  readonly wanted: number;
}

interface Aimed extends JointAim {
  readonly allowances: JointAllowances;
}

const shifted = ({ wanted, window }: Pick<Allowance, 'wanted' | 'window'>, by: number): Allowance =>
  widened({ wanted, window: [window[0], window[1]] }, snap(by));

function aimOf(
  job: Job,
  basis: AllowanceBasis,
  mate: Pick<MasterMate, 'id' | 'type' | 'slotPart' | 'enteringPart'> | null,
  context: { readonly thickness: number; readonly together: number; readonly materialOf: MaterialOf },
): Aimed {
  const { fit } = job.settings;
  const material = mate ? context.materialOf(mate.slotPart) : null;
  const type = mate?.type ?? null;
  const cell = fitCell(job.fits, fit.family, material, type);
  const general = fitCell(job.fits, fit.family, material, null);
  const forType = snap(cell.wanted - general.wanted);
  const felt = basis === 'ladder' && mate ? feltFor(job.ladders, material)?.reading[fit.family] : undefined;
  const family = felt ?? fit.clearance ?? general.wanted;
  const wish = mate ? (fit.perJoint[mate.id] ?? 0) : 0;
  const swelling = fitCell(job.fits, 'swelling', mate ? context.materialOf(mate.enteringPart) : null, type);
  const extras = fitExtras(fit, context.thickness, swelling.value);
  const alone = shifted(cell, family - general.wanted + wish + extras.thickness);
  const together = fit.knock === 'equal' ? context.together : 1;
  const thickness = together > 1 ? equalKnock(alone, together) : alone;
  const ends = fitCell(job.fits, 'ends', material, type);
  const seat = fitCell(job.fits, 'seat', material, type);
  // A housing that comes out deeper than its program is programmed so much shallower: the floor follows the seat's clearance.
  const deeper =
    basis === 'ladder' && type !== null && /housing/.test(type)
      ? (feltFor(job.ladders, material)?.deeper ?? 0)
      : 0;
  const own = (c: typeof ends, wanted: number | undefined): Allowance => ({
    wanted: wanted ?? c.wanted,
    window: [c.window[0], c.window[1]],
  });
  return {
    joint: mate?.id ?? '',
    material,
    family,
    basis: felt !== undefined ? 'ladder' : fit.clearance !== undefined ? 'job' : 'table',
    source: general.source,
    forType,
    wish,
    extras: extras.thickness,
    knock: snap(thickness.wanted - alone.wanted),
    together,
    wanted: thickness.wanted,
    allowances: {
      thickness,
      ends: widened(own(ends, fit.ends), extras.ends),
      seat: widened(own(seat, fit.seat), -deeper),
    },
  };
}

function aimsOf(job: Job, basis: AllowanceBasis, master: Master | null, materialOf: MaterialOf): Aimed[] {
  const together = master ? matesTogether(master) : new Map<string, number>();
  return (master?.mates ?? []).map((m) =>
    aimOf(job, basis, m, {
      thickness: master!.designThickness,
      together: together.get(m.id) ?? 1,
      materialOf,
    }),
  );
}

/** How the clearance of each of a master's joints came about, in the master's order. */
export const jointAims = (
  job: Job,
  basis: AllowanceBasis,
  master: Master,
  materialOf: MaterialOf,
): JointAim[] => aimsOf(job, basis, master, materialOf).map(({ allowances: _, ...aim }) => aim);

/**
 * The allowances that the job's fit asks for, mm. For every joint: the family's clearance (felt in the ladder of the slot's
 * material, else the job's own, else the fit table's), plus what the table gives this type of joint more than others, plus the
 * joint's own wish, plus what finish, sanding and moisture will change, and with `knock: "equal"` more room where several joints
 * go home in one move. Windows go along with all but the knock.
 */
export function allowancesOf(
  job: Job,
  basis: AllowanceBasis,
  master: Master | null = null,
  materialOf: MaterialOf = () => null,
): Allowances {
  const any = aimOf(job, basis, null, { thickness: master?.designThickness ?? 18, together: 1, materialOf });
  const perJoint = Object.fromEntries(
    aimsOf(job, basis, master, materialOf).map((a) => [a.joint, a.allowances] as const),
  );
  return { ...any.allowances, perJoint };
}
