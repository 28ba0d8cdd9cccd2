/** A cutting tool as it really is. Lengths mm, speeds rev/min. */
export interface Cutter {
  readonly id: string;
  /** The number by which the machine calls it, 1 or more. */
  readonly number: number;
  readonly kind: 'router' | 'drill';
  /** The diameter that it really cuts, measured. */
  readonly diameter: number;
  readonly flutes: number;
  /** Length of the cutting edges. */
  readonly fluteLength: number;
  /** Up-cut length of a compression cutter; null for others. */
  readonly upCutLength: number | null;
  readonly rpm: number;
  /** Feed per tooth, mm. */
  readonly chipLoad: number;
  /** Deepest cut in one pass, mm. */
  readonly depthPerPass: number;
  /** Steepest entry, radians from the sheet's plane. */
  readonly rampAngle: number;
  /** Of a drill: the angle that its point encloses, radians; flat when left out. */
  readonly pointAngle?: number;
  /** From its tip to the face of its holder, as clamped; where the holder is is not asked when left out. */
  readonly stickOut?: number;
  /** Radius of that holder, collet nut and all; the cutter's own when left out. */
  readonly holderRadius?: number;
}

/** How far the point of a cutter reaches beyond its full diameter, mm; 0 where it is flat. */
export const pointLength = ({ diameter, pointAngle }: Pick<Cutter, 'diameter' | 'pointAngle'>): number =>
  pointAngle === undefined ? 0 : diameter / 2 / Math.tan(pointAngle / 2);

/**
 * What a machine does to the places of a program: (x, y) is cut at ((1 + scaleX)·x + shear·y, (1 + scaleY)·y). Ratios, as a
 * calibration cut shows them.
 */
export interface Distortion {
  readonly scaleX: number;
  readonly scaleY: number;
  readonly shear: number;
}

/** What the machine can do and how its programs are referred. mm, mm/min, mm/s². */
export interface Machine {
  readonly name: string;
  /** Reach of the cutter's tip: x and y from the board's corner; z above and below Z zero. */
  readonly envelope: {
    readonly x: readonly [number, number];
    readonly y: readonly [number, number];
    readonly z: readonly [number, number];
  };
  /** Height above the sheet's top at which rapids travel. */
  readonly clearance: number;
  readonly rapidRate: number;
  readonly maxFeed: number;
  readonly maxRpm: number;
  readonly acceleration: number;
  /** Where the program's Z zero is: the sheet's top or the bed that it lies on. */
  readonly zZero: 'top' | 'bed';
  /** How deep a cutter may go into the bed sheet. */
  readonly spoilboard: number;
  /** Seconds that the spindle needs to come up to speed. */
  readonly spinUp: number;
  /** The coordinate system whose origin is set to the board's corner, 1 to 9 for G54 to G59.3; 1 when left out. */
  readonly workOffset?: number;
  /** Whether a program can have it change cutters; yes when left out. Without, there is a program for each cutter. */
  readonly changer?: boolean;
  /**
   * A second work offset, 1 to 6, with the same X and Y zero, whose Z zero is set on the sheet's top where `zZero` is the bed, and on the
   * bed where it is the top: features of the top face are cut from the one, cuts through the sheet from the other.
   */
  readonly secondOffset?: number;
  /** Radius of what travels low round the cutter (a hood, a collet nut): it keeps off screws and clamps too. The cutter alone when left out. */
  readonly hoodRadius?: number;
  /** Power of the spindle at its cutting speed, W; not asked when left out. */
  readonly power?: number;
  /** How its cuts differ from its programs; a true machine when left out. */
  readonly distortion?: Distortion;
}

/** How parts and slugs are kept from coming loose. mm. */
export interface Holding {
  /** Width of a tab, measured along the cut as material left standing. */
  readonly tabWidth: number;
  /** Height of a tab above the sheet's underside. */
  readonly tabHeight: number;
  /** One tab for each stretch of this length of outline. */
  readonly tabSpacing: number;
  /** The fewest tabs that a part may hang on. */
  readonly fewestTabs: number;
  /** Shear strength of a tab across its plies as the shop has tried it, N/mm²; assumed when left out. */
  readonly tabStrength?: number;
  /** A skin left under every loose piece instead of tabs, mm: cut through last, the smallest piece first. */
  readonly skin?: { readonly thickness: number };
  /** What one screw bears across itself as the shop has tried it, N; assumed when left out. */
  readonly screwStrength?: number;
  /** Slugs narrower than this are cut to chips instead of being held. */
  readonly clearSlugsBelow: number;
  /**
   * Vacuum under the sheet: the pressure difference that a freed part still feels, kPa, its friction on the bed (0.3 when left out), and
   * the rectangles [x0, y0, x1, y1] of the board over which the bed sucks (everywhere when left out).
   */
  readonly vacuum?: {
    readonly pressure: number;
    readonly friction?: number;
    readonly areas?: readonly (readonly [number, number, number, number])[];
  };
}

/** How many tabs a loose piece with an outline of this length (mm) must hang on: none where a skin holds it. */
export const tabsWanted = (holding: Holding, perimeter: number): number =>
  holding.skin !== undefined
    ? 0
    : Math.max(holding.fewestTabs, Math.ceil(perimeter / holding.tabSpacing - 1e-9));
