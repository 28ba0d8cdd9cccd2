/** Shear strength of a tab of plywood across its plies, N/mm². Assumed; common practice, no source. */
export const TAB_SHEAR = 5;
/**
 * Force across one screw that holds the sheet on the bed, N: below the design values for wood screws of 4 mm through a plywood side
 * member (about 350 to 420 N in timber-design tables, from memory), as a bed of fibreboard holds less. State your own.
 */
export const SCREW_SHEAR = 300;
/** Holding must be this many times the force. Common practice, no source. */
export const HOLD_SAFETY = 2;
/** Friction of a plate on the bed sheet: the low end of what was measured (0.12 to 0.65). Use a tilt test for your own. */
export const BED_FRICTION = 0.3;

/** Force that a tab bears before it shears, N: strength × width × height (mm). */
export const tabCapacity = (width: number, height: number, shear = TAB_SHEAR): number =>
  shear * width * height;

/** Force across a plate held by vacuum alone, N: friction × pressure difference (kPa) × area (mm²). */
export const vacuumCapacity = (area: number, pressure: number, friction = BED_FRICTION): number =>
  (friction * pressure * area) / 1000;

/** What holds a piece at a moment of the work. */
export interface Held {
  /** Width and height of each tab, mm. */
  readonly tabs: readonly { readonly width: number; readonly height: number }[];
  /** Area on the bed, mm², and the pressure difference under it, kPa; 0 without vacuum. */
  readonly area: number;
  readonly pressure: number;
  /** Of the piece on the bed; `BED_FRICTION` unless given. */
  readonly friction?: number;
  /** Weight of the piece, N: its tabs carry it too where the sheet does not lie flat. */
  readonly weight?: number;
  /** Shear strength of the tabs, N/mm²; assumed when left out. */
  readonly shear?: number;
  /** Screws through the piece, and what one bears, N; `SCREW_SHEAR` unless given. */
  readonly screws?: number;
  readonly screwStrength?: number;
}

/** Whether a piece stays, by how much: what holds it, N, what pushes it, N, and the one over the other. */
export interface HoldCheck {
  readonly holding: number;
  readonly force: number;
  readonly margin: number;
  readonly holds: boolean;
}

/** Tabs, vacuum and screws together against a force across the plate and its weight, with the usual safety. */
export function checkHold(held: Held, force: number, safety = HOLD_SAFETY): HoldCheck {
  if (!(force > 0)) throw new RangeError(`checkHold: a force of ${force} N`);
  const holding =
    held.tabs.reduce((sum, t) => sum + tabCapacity(t.width, t.height, held.shear), 0) +
    vacuumCapacity(held.area, held.pressure, held.friction) +
    (held.screws ?? 0) * (held.screwStrength ?? SCREW_SHEAR);
  const margin = holding / (safety * (force + (held.weight ?? 0)));
  return { holding, force, margin, holds: margin >= 1 };
}

/** Density of the heaviest sheet that is met, kg/m³: fibreboard 700 to 780, birch plywood 640 to 720; from memory. */
const DENSITY = 780;

/** Weight of a plate, N: area (mm²), thickness (mm), density (kg/m³). */
export const plateWeight = (area: number, thickness: number, density = DENSITY): number =>
  area * thickness * 1e-9 * density * 9.81;

/**
 * How many tabs of this width and height (mm) a piece must hang on against a force across it and its weight (N), with the usual safety,
 * less what vacuum holds (N).
 */
export const tabsAgainst = (
  force: number,
  weight: number,
  tab: { readonly width: number; readonly height: number },
  vacuum = 0,
  safety = HOLD_SAFETY,
  shear = TAB_SHEAR,
): number =>
  Math.max(
    0,
    Math.ceil((safety * (force + weight) - vacuum) / tabCapacity(tab.width, tab.height, shear) - 1e-9),
  );
