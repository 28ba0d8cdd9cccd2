import { type Point, pointInRing, type Ring, ringBounds } from '@haunch/geometry';
import { type ThicknessMap, thicknessBasis } from '@haunch/model';
import { USUAL_REPEATABILITY } from './practice.js';

/** A place to measure next, and what is gained by it. mm. */
export interface NextReading {
  readonly at: Point;
  /** Root mean square of the surface's standard uncertainty over the places that matter, before this reading and after it. */
  readonly before: number;
  readonly after: number;
}

/** What further readings are chosen by; everything may be left out. mm */
export interface NextReadingsOptions {
  readonly count?: number;
  /** The places that matter: where tenons lie. The whole board when left out. */
  readonly where?: readonly Point[];
  /** Where the board was measured already. */
  readonly taken?: readonly Point[];
  readonly repeatability?: number;
  /** How far apart readings are taken at the least; a sixth of the board's longer side, 300 mm at the most, when left out. */
  readonly apart?: number;
}

/** Where a reading is proposed: a grid of this many steps each way, this far from the edge (EN 324-1: 50 mm). */
const STEPS = 9;
const INSET = 50;
/**
 * A sheet's unevenness from spot to spot (a patch, a lapped veneer, a sander's wave) reaches this far: a reading beside another
 * tells it again, where the map takes each for a new one. Common practice, no source. mm
 */
const FAR_ENOUGH = 300;
const SHARE_APART = 6;
/** Rounds of exchanging chosen places for better ones. */
const ROUNDS = 20;

type Row = readonly number[];
type Matrix = readonly Row[];
const dot = (a: Row, b: Row): number => a.reduce((s, v, i) => s + v * b[i]!, 0);
const times = (m: Matrix, b: Row): number[] => m.map((row) => dot(row, b));
const far = (a: Point, b: Point, by: number): boolean => Math.hypot(a.x - b.x, a.y - b.y) >= by - 1e-9;

/** Places for readings on a board: a grid inside its outline, 50 mm from its box's edge where it is large enough. */
export function readingPlaces(outline: Ring, steps = STEPS): Point[] {
  const { minX: x0, minY: y0, maxX: x1, maxY: y1 } = ringBounds(outline);
  const along = (a: number, b: number, i: number): number => {
    const inset = Math.min(INSET, (b - a) / 4);
    return Math.round(a + inset + ((b - a - 2 * inset) * i) / (steps - 1));
  };
  const places: Point[] = [];
  for (let j = 0; j < steps; j++)
    for (let i = 0; i < steps; i++) {
      const at = { x: along(x0, x1, i), y: along(y0, y1, j) };
      if (pointInRing(outline, at) === 'inside') places.push(at);
    }
  return places;
}

/** Looks at a spaced set are given up after so many steps; three places on the usual grid need fewer. */
const MOST_LOOKS = 200_000;

/** So many places, none nearer to another or to those taken than `apart`; undefined where there is no room, or none was found in time. */
function spacedPlaces(
  candidates: readonly Point[],
  count: number,
  taken: readonly Point[],
  apart: number,
): Point[] | undefined {
  const open = candidates.filter((at) => taken.every((o) => far(at, o, apart)));
  let looks = 0;
  const chosen: Point[] = [];
  const fill = (from: number): boolean => {
    if (chosen.length === count) return true;
    for (let i = from; i < open.length && looks < MOST_LOOKS; i++) {
      looks++;
      if (!chosen.every((o) => far(open[i]!, o, apart))) continue;
      chosen.push(open[i]!);
      if (fill(i + 1)) return true;
      chosen.pop();
    }
    return false;
  };
  return fill(0) ? chosen : undefined;
}

/** The covariance that is left once a place was read. */
function afterReading(covariance: Matrix, basis: Row, noise: number): number[][] {
  const carried = times(covariance, basis);
  const variance = dot(basis, carried) + noise;
  return covariance.map((row, i) => row.map((c, j) => c - (carried[i]! * carried[j]!) / variance));
}

/**
 * The readings that together help most: those that leave the least mean variance of the surface over `where`, none nearer to
 * another or to one already taken than `apart` (as long as the board has room for that). Chosen one after the other and then
 * exchanged for better ones until none is (V. V. Fedorov, Theory of Optimal Experiments, 1972, for the criterion of mean variance);
 * told in the order in which they help. Board coordinates, mm.
 */
export function nextReadings(
  map: ThicknessMap,
  outline: Ring,
  options: NextReadingsOptions = {},
): NextReading[] {
  const { count = 3, repeatability = USUAL_REPEATABILITY, taken = [] } = options;
  const candidates = readingPlaces(outline);
  const { minX, minY, maxX, maxY } = ringBounds(outline);
  const apart = options.apart ?? Math.min(FAR_ENOUGH, Math.max(maxX - minX, maxY - minY) / SHARE_APART);
  const where = options.where && options.where.length > 0 ? options.where : candidates;
  const noise = map.local ** 2 + repeatability ** 2;
  // The mean variance over the places is the trace of the covariance with the mean of their outer products.
  const moments = map.covariance.map((_, i) =>
    map.covariance.map((__, j) => {
      const sum = where.reduce((s, p) => {
        const b = thicknessBasis(map, p);
        return s + b[i]! * b[j]!;
      }, 0);
      return sum / where.length;
    }),
  );
  const meanVariance = (covariance: Matrix): number =>
    covariance.reduce((sum, row, i) => sum + dot(row, moments[i]!), 0);
  const basisOf = new Map(candidates.map((at) => [at, thicknessBasis(map, at)] as const));
  const left = (chosen: readonly Point[]): Matrix =>
    chosen.reduce<Matrix>((c, at) => afterReading(c, basisOf.get(at)!, noise), map.covariance);
  /** The best place beside those chosen; nearer than wanted only where there is no other. */
  const bestBeside = (chosen: readonly Point[]): Point | undefined => {
    const covariance = left(chosen);
    const carriedTo = (b: Row): number => {
      const carried = times(covariance, b);
      return dot(carried, times(moments, carried)) / (dot(b, carried) + noise);
    };
    const others = candidates.filter((at) => !chosen.includes(at));
    const spaced = others.filter((at) => [...chosen, ...taken].every((o) => far(at, o, apart)));
    const loose = others.filter((at) => chosen.every((o) => far(at, o, apart)));
    const open = spaced.length > 0 ? spaced : loose.length > 0 ? loose : others;
    let best: { readonly at: Point; readonly gain: number } | undefined;
    for (const at of open) {
      const gain = carriedTo(basisOf.get(at)!);
      if (!best || gain > best.gain * (1 + 1e-9)) best = { at, gain };
    }
    return best?.at;
  };
  let chosen: Point[] = [];
  while (chosen.length < count) {
    const at = bestBeside(chosen);
    if (!at) break;
    chosen.push(at);
  }
  // The best one by one may leave no room for the last; then any spaced set is the better beginning.
  const crowded = chosen.some((at, i) => ![...taken, ...chosen.slice(0, i)].every((o) => far(at, o, apart)));
  if (crowded) chosen = spacedPlaces(candidates, count, taken, apart) ?? chosen;
  for (let round = 0; round < ROUNDS; round++) {
    let better = false;
    for (const at of [...chosen]) {
      const others = chosen.filter((o) => o !== at);
      const other = bestBeside(others);
      if (!other || other === at) continue;
      if (meanVariance(left([...others, other])) < meanVariance(left(chosen)) * (1 - 1e-9)) {
        chosen = [...others, other];
        better = true;
      }
    }
    if (!better) break;
  }
  return inOrder(chosen, (some) => meanVariance(left(some)));
}

/** The chosen places, the most helpful first, each with what is left once it and those before it were read. */
function inOrder(chosen: readonly Point[], variance: (some: readonly Point[]) => number): NextReading[] {
  const told: NextReading[] = [];
  const sofar: Point[] = [];
  let before = variance([]);
  for (;;) {
    const rest = chosen.filter((at) => !sofar.includes(at));
    const next = rest.reduce<{ at: Point; left: number } | undefined>((best, at) => {
      const left = variance([...sofar, at]);
      return !best || left < best.left * (1 - 1e-9) ? { at, left } : best;
    }, undefined);
    if (!next) return told;
    told.push({
      at: next.at,
      before: Math.sqrt(Math.max(0, before)),
      after: Math.sqrt(Math.max(0, next.left)),
    });
    sofar.push(next.at);
    before = next.left;
  }
}
