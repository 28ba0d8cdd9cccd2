import { type Point, type Ring, ringBounds, snap } from '@haunch/geometry';
import { fail, type Locus, type Outcome, ok, type ThicknessMap, thicknessAt } from '@haunch/model';
import { loadNeedsPlace, notThisBoard } from '../diagnostics.js';
import { meantThickness } from './check-readings.js';
import { LOAD_LIMIT } from './practice.js';
import { thicknessInterval } from './thickness-interval.js';
import type { ThicknessReading } from './thickness-reading.js';

/** The reading at loading agrees with the board's map. mm. */
export interface LoadGo {
  readonly kind: 'go';
  readonly measured: number;
  readonly expected: number;
  readonly difference: number;
}

/** Fields along each side in which a map's least and most are looked for: a low-order surface turns no more often. */
const FIELDS = 8;

/** What a map says from end to end of a board: its middle, its least and its most. mm */
function across(map: ThicknessMap, { minX, minY, maxX, maxY }: ReturnType<typeof ringBounds>) {
  const at = (i: number, j: number): Point => ({
    x: minX + (i / FIELDS) * (maxX - minX),
    y: minY + (j / FIELDS) * (maxY - minY),
  });
  const steps = Array.from({ length: FIELDS + 1 }, (_, i) => i);
  const all = steps.flatMap((i) => steps.map((j) => thicknessAt(map, at(i, j)).thickness));
  const middle = thicknessAt(map, at(FIELDS / 2, FIELDS / 2)).thickness;
  return { middle, least: Math.min(...all), most: Math.max(...all) };
}

/**
 * How far a reading at the machine may be from what the map says at a place, mm: 0.1 mm, or where a reading lies nineteen times in twenty by
 * the map itself, if that is wider. A gate narrower than the map's own doubt would stop sheets that it was made of.
 */
export function loadLimit(map: ThicknessMap, at: Point): number {
  const [low, high] = thicknessInterval(map, at);
  return Math.max(LOAD_LIMIT, snap((high - low) / 2));
}

/**
 * One reading at the machine before cutting: go, or a refusal when it is further than `limit` (mm, that of `loadLimit` when left out)
 * from what the map says there. Without its place it is held against the middle of the board (`outline`; the map's sheet when left out), and
 * refused where the map varies by more than the limit. A slip of the point or an inch is named.
 */
export function checkLoad(
  map: ThicknessMap,
  reading: ThicknessReading,
  options: { readonly limit?: number; readonly locus?: Locus; readonly outline?: Ring } = {},
): Outcome<LoadGo> {
  const { locus = {}, outline } = options;
  const { centre, reach } = map;
  const sheet = {
    minX: centre.x - reach.x,
    minY: centre.y - reach.y,
    maxX: centre.x + reach.x,
    maxY: centre.y + reach.y,
  };
  const box = outline ? ringBounds(outline) : sheet;
  const whole = reading.at ? undefined : across(map, box);
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const limit = options.limit ?? loadLimit(map, reading.at ?? middle);
  const expected = reading.at ? thicknessAt(map, reading.at).thickness : whole!.middle;
  const difference = reading.thickness - expected;
  // Half a micrometre more than the limit, so that a difference typed as the limit itself still goes.
  const most = limit + 5e-4;
  const guess = meantThickness(reading.thickness, expected);
  if (whole && guess === undefined && whole.most - whole.least > most)
    return fail(loadNeedsPlace(whole.least, whole.most, limit, locus));
  if (Math.abs(difference) > most)
    return fail(notThisBoard(reading.thickness, expected, limit, reading.at, guess, locus));
  return ok({ kind: 'go', measured: reading.thickness, expected, difference });
}
