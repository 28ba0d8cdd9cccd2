import { snap } from '@haunch/geometry';
import { air, type BuilderRelief, type BuiltJoint, NOTHING, wood } from './built-joint.js';
import { checkOptions } from './check-options.js';

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
 * The mate: the edge comes from +z, is held along y, in a stopped housing along x too, and stops on the floor.
 * @throws TypeError, RangeError when an option is missing, unknown or not what it must be, or the housing is as deep as its plate.
 */
export function housing(options: HousingOptions): BuiltJoint {
  checkOptions(
    'housing',
    options,
    { thickness: 'thicknesses', depth: 'positive', length: 'positive' },
    { stopped: 'flag', clearance: 'figure', ends: 'figure', seat: 'figure', relief: 'relief' },
  );
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
  if (!(depth + seat > 0 && depth + seat < thickness[0]))
    throw new RangeError(`housing: ${snap(depth + seat)} mm deep in a plate of ${thickness[0]} mm`);
  const half = (thickness[1] + clearance) / 2;
  const along = (length + (stopped ? ends : 0)) / 2;
  const ring = air('housing', [-along, along], [-half, half], relief, stopped ? [] : ['low x', 'high x']);
  return {
    kind: 'built-joint',
    type: stopped ? 'stopped housing' : 'through housing',
    slot: { ...NOTHING, recess: [{ ring, depth: snap(depth + seat) }] },
    entering: { ...NOTHING, add: [wood([-length / 2, length / 2], [0, depth])] },
    entry: 'across the plate',
    mate: {
      enteringMoves: '-z',
      locates: stopped ? ['+x', '-x', '+y', '-y'] : ['+y', '-y'],
      stopsOn: '-z',
    },
  };
}
