import { air, type BuilderRelief, type BuiltJoint, NOTHING, wood } from './built-joint.js';
import { checkOptions } from './check-options.js';

/** What a mortise and its tenon are made of. mm */
export interface MortiseOptions {
  /** Thickness of the plate with the mortise and of the plate with the tenon. */
  readonly thickness: readonly [mortised: number, tenoned: number];
  /** Width of the tenon along the joint. */
  readonly width: number;
  /** How far the tenon stands out beyond the far face; 0, flush, when left out. */
  readonly proud?: number;
  /** Total clearance of the tenon's thickness in the mortise's width. */
  readonly clearance?: number;
  /** Total clearance of the tenon's width in the mortise's length. */
  readonly ends?: number;
  readonly relief?: BuilderRelief | null;
}

/**
 * A mortise right through one plate and a tenon of another. Mortised plate: x along the joint, y across the mortise, both about
 * its middle. Tenoned plate: x along the joint, y from the shoulder (0), which lies on the near face, to the tenon's end.
 * The mate: the tenon comes from +z, is held along x and y, and its plate stops with the shoulders on the near face.
 * @throws TypeError, RangeError when an option is missing, unknown or not what it must be, or the tenon would have no length.
 */
export function mortise(options: MortiseOptions): BuiltJoint {
  checkOptions(
    'mortise',
    options,
    { thickness: 'thicknesses', width: 'positive' },
    { proud: 'figure', clearance: 'figure', ends: 'figure', relief: 'relief' },
  );
  const { thickness, width, proud = 0, clearance = 0, ends = 0, relief = null } = options;
  const [plate, tenon] = thickness;
  if (!(plate + proud > 0)) throw new RangeError(`mortise: a tenon ${proud} mm proud would have no length`);
  const [along, across] = [(width + ends) / 2, (tenon + clearance) / 2];
  return {
    kind: 'built-joint',
    type: 'through mortise and tenon',
    slot: { ...NOTHING, cut: [air('mortise', [-along, along], [-across, across], relief)] },
    entering: { ...NOTHING, add: [wood([-width / 2, width / 2], [0, plate + proud])] },
    entry: 'across the plate',
    mate: { enteringMoves: '-z', locates: ['+x', '-x', '+y', '-y'], stopsOn: '-z' },
  };
}
