import { type Point, pointInRing, type Ring, ringBounds } from '@haunch/geometry';
import { type ThicknessMap, thicknessBasis } from '@haunch/model';
import { USUAL_REPEATABILITY } from './practice.js';

/** A place to measure next, and what is gained by it. mm. */
export interface NextReading {
  readonly at: Point;
  /** Mean standard uncertainty of the surface over the places that matter, before this reading and after it. */
  readonly before: number;
  readonly after: number;
}

/** Where a reading is proposed: a grid of this many steps each way, this far from the edge (EN 324-1: 50 mm). */
const STEPS = 9;
const INSET = 50;

/** Places for readings on a board: a grid inside its outline, 50 mm from its box's edge where it is large enough. */
function candidatePlaces(outline: Ring): Point[] {
  const { minX: x0, minY: y0, maxX: x1, maxY: y1 } = ringBounds(outline);
  const along = (a: number, b: number, i: number): number => {
    const inset = Math.min(INSET, (b - a) / 4);
    return Math.round(a + inset + ((b - a - 2 * inset) * i) / (STEPS - 1));
  };
  const places: Point[] = [];
  for (let j = 0; j < STEPS; j++)
    for (let i = 0; i < STEPS; i++) {
      const at = { x: along(x0, x1, i), y: along(y0, y1, j) };
      if (pointInRing(outline, at) === 'inside') places.push(at);
    }
  return places;
}

/**
 * The readings that would help most, best first (greedily: each chosen with those before it already taken): the ones
 * that leave the least mean variance of the surface over `where` (the places where tenons and slots lie; the
 * whole board when left out). Board coordinates, mm. Greedy choice is within 1 − 1/e of the best such set
 * (G. Nemhauser, L. Wolsey, M. Fisher 1978, for variance reductions that are submodular).
 */
export function nextReadings(
  map: ThicknessMap,
  outline: Ring,
  options: {
    readonly count?: number;
    readonly where?: readonly Point[];
    readonly repeatability?: number;
  } = {},
): NextReading[] {
  const { count = 3, repeatability = USUAL_REPEATABILITY } = options;
  const candidates = candidatePlaces(outline);
  const where = options.where && options.where.length > 0 ? options.where : candidates;
  const targets = where.map((p) => thicknessBasis(map, p));
  const noise = map.local ** 2 + repeatability ** 2;
  let covariance = map.covariance.map((row) => [...row]);
  const times = (b: readonly number[]): number[] =>
    covariance.map((row) => row.reduce((s, c, j) => s + c * b[j]!, 0));
  const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((s, v, i) => s + v * b[i]!, 0);
  const meanVariance = (): number => targets.reduce((s, b) => s + dot(b, times(b)), 0) / targets.length;
  const chosen: NextReading[] = [];
  for (let k = 0; k < count && candidates.length > 0; k++) {
    const before = meanVariance();
    let best: { at: Point; gain: number; carried: number[]; variance: number } | undefined;
    for (const at of candidates) {
      if (chosen.some((c) => c.at.x === at.x && c.at.y === at.y)) continue;
      const b = thicknessBasis(map, at);
      const carried = times(b);
      const variance = dot(b, carried) + noise;
      const gain = targets.reduce((s, t) => s + dot(t, carried) ** 2, 0) / variance / targets.length;
      if (!best || gain > best.gain * (1 + 1e-9)) best = { at, gain, carried, variance };
    }
    if (!best) break;
    const { carried, variance, at } = best;
    covariance = covariance.map((row, i) => row.map((c, j) => c - (carried[i]! * carried[j]!) / variance));
    chosen.push({
      at,
      before: Math.sqrt(Math.max(0, before)),
      after: Math.sqrt(Math.max(0, meanVariance())),
    });
  }
  return chosen;
}
