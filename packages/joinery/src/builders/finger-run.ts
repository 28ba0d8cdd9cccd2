import { snap } from '@haunch/geometry';
import { air, type BuilderRelief, type BuiltJoint, NOTHING } from './built-joint.js';
import { checkOptions } from './check-options.js';

/** What a run of fingers is made of. mm */
export interface FingerRunOptions {
  /** Thickness of the plate whose fingers stand at both ends of the run, and of the other. */
  readonly thickness: readonly [outer: number, inner: number];
  /** Length of the edge along which the plates meet. */
  readonly length: number;
  /** Fingers and gaps together, an odd number: 3, 5, 7 … */
  readonly count: number;
  /** Total clearance of a finger's width between its neighbours. */
  readonly ends?: number;
  readonly relief?: BuilderRelief | null;
}

/**
 * Two plates that meet in a corner with fingers between fingers: x along the edge from its start (0), y from the corner's outer face (0)
 * inwards, in both plates. Every second of the `count` equal stretches, beginning with the first, is the outer plate's finger.
 * The mate, where the inner plate stands on the outer one towards +z: it comes along +y until it stops in the gaps' roots, is held
 * along x by the fingers and against −z by its own roots.
 * @throws TypeError, RangeError when an option is missing, unknown or not what it must be, or the count is no odd number from 3.
 */
export function fingerRun(options: FingerRunOptions): BuiltJoint {
  checkOptions(
    'fingerRun',
    options,
    { thickness: 'thicknesses', length: 'positive', count: 'positive' },
    { ends: 'figure', relief: 'relief' },
  );
  const { thickness, length, count, ends = 0, relief = null } = options;
  if (!Number.isInteger(count) || count < 3 || count % 2 === 0)
    throw new RangeError(`fingerRun: a count of ${count}; an odd number from 3 is wanted`);
  const pitch = length / count;
  if (Math.abs(ends) >= pitch)
    throw new RangeError(`fingerRun: ${ends} mm of clearance in fingers of ${snap(pitch)} mm`);
  const gaps = (first: number, depth: number) =>
    Array.from({ length: count }, (_, i) => i)
      .filter((i) => i % 2 === first)
      .map((i) => {
        const x: [number, number] = [i * pitch - ends / 4, (i + 1) * pitch + ends / 4];
        const open: ('low y' | 'low x' | 'high x')[] = ['low y'];
        if (i === 0) open.push('low x');
        if (i === count - 1) open.push('high x');
        return air('fingerRun', x, [0, depth], relief, open);
      });
  return {
    kind: 'built-joint',
    type: 'finger run',
    slot: { ...NOTHING, cut: gaps(1, thickness[1]) },
    entering: { ...NOTHING, cut: gaps(0, thickness[0]) },
    entry: 'along the plate',
    mate: { enteringMoves: '+y', locates: ['+x', '-x', '-z'], stopsOn: '+y' },
  };
}
