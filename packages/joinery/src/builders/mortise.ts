import { rectangleRing } from '@haunch/geometry';
import { air, assertPositive, type BuilderRelief, type BuiltJoint, NOTHING } from './built-joint.js';

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
 * @throws RangeError when a figure is not positive, or the tenon would not reach the far face.
 */
export function mortise(options: MortiseOptions): BuiltJoint {
  const { thickness, width, proud = 0, clearance = 0, ends = 0, relief = null } = options;
  const [plate, tenon] = thickness;
  assertPositive('mortise', { mortised: plate, tenoned: tenon, width });
  if (!(plate + proud > 0)) throw new RangeError(`mortise: a tenon ${proud} mm proud would have no length`);
  const [along, across] = [(width + ends) / 2, (tenon + clearance) / 2];
  return {
    kind: 'built-joint',
    type: 'through mortise and tenon',
    slot: { ...NOTHING, cut: [air([-along, along], [-across, across], relief)] },
    entering: { ...NOTHING, add: [rectangleRing(-width / 2, 0, width / 2, plate + proud)] },
    entry: 'across the plate',
  };
}
