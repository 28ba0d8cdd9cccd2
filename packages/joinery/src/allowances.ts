import { snap } from '@haunch/geometry';

/** A clearance that is wanted and the range in which it still counts as wanted, mm. */
export interface Allowance {
  readonly wanted: number;
  readonly window: readonly [number, number];
}

/** The clearances for one joint, by what is judged: total for two walls or ends, the gap for a seat. mm */
export interface JointAllowances {
  readonly thickness: Allowance;
  readonly ends: Allowance;
  readonly seat: Allowance;
}

/** The clearances for all joints, with exceptions by the mate's id. */
export interface Allowances extends JointAllowances {
  readonly perJoint?: Readonly<Record<string, Partial<JointAllowances>>>;
}

/** How tight a joint is meant to be, in a maker's words: `drive` with a mallet, `snug` by hand, `slip` loose. */
export type FitFamily = 'drive' | 'snug' | 'slip';

/**
 * Total clearance between a plate and its slot, mm: slot width less real thickness. A plywood joint goes home
 * by hand and does not wobble over barely 0.2 mm, so each family is a tenth or so wide; the aim is its middle,
 * but for `slip` nearer to its tight end, as looseness adds up over a piece. Common practice, no source.
 */
const FAMILIES: Readonly<Record<FitFamily, Allowance>> = {
  drive: { wanted: 0, window: [-0.05, 0.05] },
  snug: { wanted: 0.1, window: [0.05, 0.15] },
  slip: { wanted: 0.25, window: [0.15, 0.4] },
};

/**
 * A tenon's ends are not grip faces: they must only never bind, so they get more room than the cheeks and a
 * wide window. A cutter that is off by δ changes this fit by 2δ, the other fits by δ. Common practice, no source.
 */
const ENDS: Allowance = { wanted: 0.2, window: [0.05, 0.45] };

/**
 * Where laps bottom the drawing has them meet, and a gap there shows less than a shelf that stands proud; a
 * hundredth of interference is within the rounding of a program. Common practice, no source.
 */
const SEAT: Allowance = { wanted: 0, window: [-0.01, 0.3] };

const shifted = (a: Allowance, wanted: number): Allowance => ({
  wanted,
  window: [snap(wanted + (a.window[0] - a.wanted)), snap(wanted + (a.window[1] - a.wanted))],
});

/**
 * The allowances of a family of fits, mm: drive −0.05 … +0.05 aiming at 0, snug 0.05 … 0.15 at 0.10, slip
 * 0.15 … 0.40 at 0.25; ends 0.05 … 0.45 at 0.20; seats −0.01 … 0.30 at 0. With `clearance` the thickness fits
 * aim at that instead and their window goes along. All of it common practice, no published source.
 * @throws RangeError when `clearance` is not finite.
 */
export function defaultAllowances(fit: FitFamily, clearance?: number): Allowances {
  if (clearance !== undefined && !Number.isFinite(clearance))
    throw new RangeError(`defaultAllowances: clearance ${clearance} is not a length`);
  const usual = FAMILIES[fit];
  return { thickness: clearance === undefined ? usual : shifted(usual, clearance), ends: ENDS, seat: SEAT };
}
