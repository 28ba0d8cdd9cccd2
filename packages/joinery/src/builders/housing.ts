import { rectangleRing } from '@haunch/geometry';
import { air, assertPositive, type BuilderRelief, type BuiltJoint, NOTHING } from './built-joint.js';

/** What a housing is made of. mm */
export interface HousingOptions {
  /** Thickness of the plate with the housing and of the plate that enters it. */
  readonly thickness: readonly [housed: number, entering: number];
  readonly depth: number;
  /** Length of the edge that enters. */
  readonly length: number;
  /** Whether the housing stops before the plate's edges, or runs out at both. */
  readonly stopped?: boolean;
  readonly clearance?: number;
  /** Total clearance along a stopped housing. */
  readonly ends?: number;
  /** Gap between the entering edge and the floor. */
  readonly seat?: number;
  readonly relief?: BuilderRelief | null;
}

/**
 * A recess that takes the edge of another plate. Housed plate: x along the housing, y across it, about its middle, on the face from which the
 * other plate comes. Entering plate: x along the joint, y from that face (0) into the housing.
 * @throws RangeError when a figure is not positive, or the housing is as deep as its plate.
 */
export function housing(options: HousingOptions): BuiltJoint {
  const {
    thickness,
    depth,
    length,
    stopped = true,
    clearance = 0,
    ends = 0,
    seat = 0,
    relief = null,
  } = options;
  assertPositive('housing', { housed: thickness[0], entering: thickness[1], depth, length });
  if (depth + seat >= thickness[0])
    throw new RangeError(`housing: ${depth + seat} mm deep in a plate of ${thickness[0]} mm`);
  const half = (thickness[1] + clearance) / 2;
  const along = (length + (stopped ? ends : 0)) / 2;
  const ring = air([-along, along], [-half, half], relief, stopped ? [] : ['low x', 'high x']);
  return {
    kind: 'built-joint',
    type: stopped ? 'stopped housing' : 'through housing',
    slot: { ...NOTHING, recess: [{ ring, depth: depth + seat }] },
    entering: { ...NOTHING, add: [rectangleRing(-length / 2, 0, length / 2, depth)] },
    entry: 'across the plate',
  };
}
