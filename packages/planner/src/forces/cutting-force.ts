import type { SheetMaterial } from '@haunch/model';

/**
 * Specific cutting energy, N/mm² (the same as J/cm³): low, usual, high. Particleboard 32.0 to 37.6 from peripheral up-milling (B.
 * Pałubicki, Materials 14, 2021, 2208); the others from memory, their ranges wide. It falls with thicker chips and rises with a dull edge.
 */
export const SPECIFIC_ENERGY: Readonly<Record<SheetMaterial, readonly [number, number, number]>> = {
  'softwood plywood': [10, 25, 40],
  'birch plywood': [25, 40, 60],
  fibreboard: [20, 35, 50],
  particleboard: [32, 35, 37.6],
};

/** How a cutter is engaged: depth and width of cut (mm), feed (mm/min), rev/min. */
export interface Engagement {
  readonly diameter: number;
  readonly flutes: number;
  readonly depth: number;
  /** Width of cut: the diameter in a full slot. */
  readonly width: number;
  readonly feed: number;
  readonly rpm: number;
}

/** What the engagement takes. W, N, m/s, mm. */
export interface CuttingForce {
  readonly power: number;
  /** Mean force along the cutting edge's way. */
  readonly mean: number;
  /** Peak force of one edge at its thickest chip. */
  readonly peak: number;
  readonly cuttingSpeed: number;
  /** Thickest chip. */
  readonly chip: number;
}

/**
 * Power P = a_p·a_e·v_f·k_c / 60,000 W, mean tangential force P / v_c, peak a_p·h·k_c with the thickest chip
 * h = f_z, or 2·f_z·√(a(1 − a)) where less than half of the cutter is engaged (a = a_e / D).
 * @throws RangeError when a figure is not positive or the width exceeds the diameter.
 */
export function cuttingForce(e: Engagement, specificEnergy: number): CuttingForce {
  const { diameter, flutes, depth, width, feed, rpm } = e;
  for (const [name, v] of Object.entries({ ...e, specificEnergy }))
    if (!(v > 0)) throw new RangeError(`cuttingForce: ${name} ${v} must be positive`);
  if (width > diameter * (1 + 1e-9))
    throw new RangeError(`cuttingForce: width ${width} exceeds the diameter ${diameter}`);
  const power = (depth * width * feed * specificEnergy) / 60e3;
  const cuttingSpeed = (Math.PI * diameter * rpm) / 60e3;
  const perTooth = feed / (flutes * rpm);
  const share = width / diameter;
  const chip = share >= 0.5 ? perTooth : 2 * perTooth * Math.sqrt(share * (1 - share));
  return { power, mean: power / cuttingSpeed, peak: depth * chip * specificEnergy, cuttingSpeed, chip };
}

/** Factor by which the feed may rise so that thin chips become as thick as in a full slot: 1 / (2√(a(1 − a))) below half engagement. */
export function chipThinning(width: number, diameter: number): number {
  const a = width / diameter;
  if (!(a > 0 && a <= 1))
    throw new RangeError(`chipThinning: a width of ${width} on a cutter of ${diameter}`);
  return a >= 0.5 ? 1 : 1 / (2 * Math.sqrt(a * (1 - a)));
}

/** Share of the chip load that a cutter bears at a depth of so many diameters: all to 1, three quarters at 2, half at 3 and beyond, straight between. A published bench rule (−25 % at 2 D, −50 % at 3 D). */
export const depthDerating = (depth: number, diameter: number): number =>
  Math.min(1, Math.max(0.5, 1 - 0.25 * (depth / diameter - 1)));

/** Young's modulus of carbide, N/mm²; from memory. */
const CARBIDE = 600_000;

/**
 * How far a round shank of carbide bends at its tip under a force across it: δ = F·L³ / (3·E·I), I = π·d⁴ / 64. Holder and gantry usually
 * bend more (common practice, no source). mm
 */
export function cutterDeflection(force: number, diameter: number, stickOut: number): number {
  if (!(diameter > 0 && stickOut > 0))
    throw new RangeError(`cutterDeflection: diameter ${diameter}, stick-out ${stickOut}`);
  return (force * stickOut ** 3) / (3 * CARBIDE * ((Math.PI * diameter ** 4) / 64));
}
