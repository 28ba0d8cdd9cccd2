import type { Point } from '@haunch/geometry';

/** Which surface the readings speak for most: one thickness, a slope, or a curved surface. */
export type ThicknessSurface = 'level' | 'plane' | 'curved';

/**
 * The thickness of a sheet as a function of the place, with what is not known of it.
 *
 * t(x, y) = Σ coefficients[i] · bᵢ(ξ, η) with b = 1, ξ, η, ξ², ξη, η², where (ξ, η) is the place, carried into
 * the frame in which the readings were taken (`motion`), less `centre`, over `reach`. mm throughout.
 */
export interface ThicknessMap {
  readonly kind: 'thickness-map';
  readonly surface: ThicknessSurface;
  /** How much the readings speak for each surface; they sum to 1. */
  readonly evidence: Readonly<Record<ThicknessSurface, number>>;
  readonly centre: Point;
  readonly reach: Point;
  /** Six, in the order of the formula. */
  readonly coefficients: readonly number[];
  /** Covariance of the coefficients, six by six, mm². */
  readonly covariance: readonly (readonly number[])[];
  /** Standard deviation of the sheet about the surface from spot to spot (ply joints, sanding), mm. */
  readonly local: number;
  /** Degrees of freedom of Student's distribution that describes the uncertainty best. */
  readonly degreesOfFreedom: number;
  /** How the board's coordinates are carried to those of the readings: turned over first, then turned, then moved. */
  readonly motion: {
    readonly turnedOver: boolean;
    readonly turn: number;
    readonly x: number;
    readonly y: number;
  };
}

/** A thickness with its standard uncertainty, mm. */
export interface UncertainThickness {
  readonly thickness: number;
  /** Standard uncertainty of the thickness at one spot, local unevenness included. */
  readonly u: number;
  /** Standard uncertainty of the smooth surface alone, as it matters to a mean over a long stretch. */
  readonly surfaceU: number;
}

const basis = (xi: number, eta: number): readonly number[] => [1, xi, eta, xi * xi, xi * eta, eta * eta];

/** The six values bᵢ(ξ, η) of a map's formula at a place on its board. */
export function thicknessBasis(map: ThicknessMap, at: Point): readonly number[] {
  const { turnedOver, turn, x, y } = map.motion;
  const px = turnedOver ? -at.x : at.x;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [qx, qy] = [c * px - s * at.y + x, s * px + c * at.y + y];
  return basis((qx - map.centre.x) / map.reach.x, (qy - map.centre.y) / map.reach.y);
}

/** Thickness at a place on the map's board, mm. */
export function thicknessAt(map: ThicknessMap, at: Point): UncertainThickness {
  const b = thicknessBasis(map, at);
  const thickness = b.reduce((sum, v, i) => sum + v * map.coefficients[i]!, 0);
  let variance = 0;
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) variance += b[i]! * b[j]! * map.covariance[i]![j]!;
  const surfaceU = Math.sqrt(Math.max(0, variance));
  return { thickness, surfaceU, u: Math.hypot(surfaceU, map.local) };
}

/** A map of one thickness everywhere, known exactly: what a board without uncertainty has. mm. */
export const levelMap = (thickness: number): ThicknessMap => ({
  kind: 'thickness-map',
  surface: 'level',
  evidence: { level: 1, plane: 0, curved: 0 },
  centre: { x: 0, y: 0 },
  reach: { x: 1, y: 1 },
  coefficients: [thickness, 0, 0, 0, 0, 0],
  covariance: Array.from({ length: 6 }, () => [0, 0, 0, 0, 0, 0]),
  local: 0,
  degreesOfFreedom: 1e6,
  motion: { turnedOver: false, turn: 0, x: 0, y: 0 },
});
