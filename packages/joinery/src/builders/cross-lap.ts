import { air, assertPositive, type BuilderRelief, type BuiltJoint, NOTHING } from './built-joint.js';

/** What a cross-lap or a half notch is made of. mm */
export interface CrossLapOptions {
  /** Thickness of the lower plate (slotted from above) and of the upper (slotted from below). */
  readonly thickness: readonly [lower: number, upper: number];
  /** How far the plates overlap along the line in which they cross. */
  readonly overlap: number;
  /** Share of the overlap that the lower plate's slot takes; a half when left out. */
  readonly share?: number;
  /** Total clearance of each plate in the other's slot. */
  readonly clearance?: number;
  /** Gap where the slots bottom on each other. */
  readonly seat?: number;
  readonly relief?: BuilderRelief | null;
}

/**
 * Two slotted plates that slide into each other: x across each slot, about its middle; y along the line in which the plates
 * cross, from the overlap's lower end (0) to its upper (`overlap`). The lower plate is open at the top, the upper at the bottom.
 * @throws RangeError when a figure is not positive, or a share is not between 0 and 1.
 */
export function crossLap(options: CrossLapOptions): BuiltJoint {
  const { thickness, overlap, share = 0.5, clearance = 0, seat = 0, relief = null } = options;
  assertPositive('crossLap', { lower: thickness[0], upper: thickness[1], overlap });
  if (!(share > 0 && share < 1)) throw new RangeError(`crossLap: share ${share} must lie between 0 and 1`);
  const floor = overlap * (1 - share);
  const half = (plate: number): readonly [number, number] => [
    -(plate + clearance) / 2,
    (plate + clearance) / 2,
  ];
  return {
    kind: 'built-joint',
    type: 'cross-lap',
    slot: { ...NOTHING, cut: [air(half(thickness[1]), [floor - seat / 2, overlap], relief, ['high y'])] },
    entering: { ...NOTHING, cut: [air(half(thickness[0]), [0, floor + seat / 2], relief, ['low y'])] },
    entry: 'along the plate',
  };
}

/** A cross-lap at the edge of the lower plate: each takes half of what they overlap (or the share given). See `crossLap`. */
export const halfNotch = (options: CrossLapOptions): BuiltJoint => ({
  ...crossLap(options),
  type: 'half notch',
});
