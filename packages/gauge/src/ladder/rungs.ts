import { snap } from '@haunch/geometry';

/** One slot of a ladder: its wall-to-wall direction, and its width as the program has it. mm. */
export interface Rung {
  readonly id: string;
  /** The machine's axis across the slot: along which its width is measured. */
  readonly axis: 'x' | 'y';
  /** Width less the plug's thickness, as the program has it. */
  readonly clearance: number;
}

/** Steps of a ladder. mm. */
export interface LadderSteps {
  /** The clearance in the middle of the ladder: what the job would use without one. */
  readonly about: number;
  readonly step: number;
  /** How many rungs across X and across Y. */
  readonly acrossX: number;
  readonly acrossY: number;
}

/** Seven rungs across X and three across Y, 0.05 mm apart. Common practice, no source. */
export const USUAL_STEPS: LadderSteps = { about: 0.1, step: 0.05, acrossX: 7, acrossY: 3 };

/**
 * The rungs of a ladder, tightest first, `x1`… across X and `y1`… across Y; those across Y lie about the same clearance, so
 * that both axes can be compared. mm.
 * @throws RangeError for a step that is not positive or fewer than three rungs across X.
 */
export function rungsOf(steps: LadderSteps): Rung[] {
  if (!(steps.step > 0)) throw new RangeError(`rungsOf: a step of ${steps.step} mm`);
  if (!(steps.acrossX >= 3 && steps.acrossY >= 0))
    throw new RangeError('rungsOf: three rungs across X at least');
  const row = (axis: 'x' | 'y', count: number): Rung[] =>
    Array.from({ length: count }, (_, i) => ({
      id: `${axis}${i + 1}`,
      axis,
      clearance: snap(steps.about + (i - (count - 1) / 2) * steps.step),
    }));
  return [...row('x', steps.acrossX), ...row('y', steps.acrossY)];
}
