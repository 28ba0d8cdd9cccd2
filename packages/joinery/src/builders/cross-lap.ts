import { air, type BuilderRelief, type BuiltJoint, NOTHING } from './built-joint.js';
import { checkOptions } from './check-options.js';

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
 * The mate: the upper plate comes from +y, is held across both slots, and stops where they bottom on each other.
 * @throws TypeError, RangeError when an option is missing, unknown or not what it must be, or a share is not between 0 and 1.
 */
export const crossLap = (options: CrossLapOptions): BuiltJoint => lap('crossLap', 'cross-lap', options);

/** A cross-lap at the edge of the lower plate: each takes half of what they overlap (or the share given). See `crossLap`. */
export const halfNotch = (options: CrossLapOptions): BuiltJoint => lap('halfNotch', 'half notch', options);

function lap(builder: string, type: string, options: CrossLapOptions): BuiltJoint {
  checkOptions(
    builder,
    options,
    { thickness: 'thicknesses', overlap: 'positive' },
    { share: 'figure', clearance: 'figure', seat: 'figure', relief: 'relief' },
  );
  const { thickness, overlap, share = 0.5, clearance = 0, seat = 0, relief = null } = options;
  if (!(share > 0 && share < 1)) throw new RangeError(`${builder}: share ${share} must lie between 0 and 1`);
  const least = overlap * Math.min(share, 1 - share);
  if (!(Math.abs(seat) < 2 * least))
    throw new RangeError(`${builder}: a seat of ${seat} mm in slots of which one is ${least} mm deep`);
  const floor = overlap * (1 - share);
  const half = (plate: number): readonly [number, number] => [
    -(plate + clearance) / 2,
    (plate + clearance) / 2,
  ];
  return {
    kind: 'built-joint',
    type,
    slot: {
      ...NOTHING,
      cut: [air(builder, half(thickness[1]), [floor - seat / 2, overlap], relief, ['high y'])],
    },
    entering: {
      ...NOTHING,
      cut: [air(builder, half(thickness[0]), [0, floor + seat / 2], relief, ['low y'])],
    },
    entry: 'along the plate',
    mate: { enteringMoves: '-y', locates: ['+x', '-x', '+z', '-z'], stopsOn: '-y' },
  };
}
