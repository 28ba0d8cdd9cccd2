/** One contribution to an uncertainty: its standard uncertainty (already times its sensitivity) and degrees of freedom. */
export interface Contribution {
  readonly u: number;
  /** Infinity where it is known exactly. */
  readonly degreesOfFreedom: number;
}

/**
 * The combined standard uncertainty of independent contributions and its effective degrees of freedom by the
 * Welch–Satterthwaite formula (JCGM 100:2008, 5.1.2 and G.4.1, equation G.2b), in the unit of the contributions.
 * @throws RangeError when there is no contribution.
 */
export function combinedUncertainty(contributions: readonly Contribution[]): Contribution {
  if (contributions.length === 0) throw new RangeError('combinedUncertainty: no contributions');
  const u = Math.hypot(...contributions.map((c) => c.u));
  const fourth = contributions.reduce((sum, c) => sum + c.u ** 4 / c.degreesOfFreedom, 0);
  return { u, degreesOfFreedom: fourth === 0 ? Number.POSITIVE_INFINITY : u ** 4 / fourth };
}
