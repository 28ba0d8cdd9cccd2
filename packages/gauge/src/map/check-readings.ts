import { pointInRing, type Ring } from '@haunch/geometry';
import type { Diagnostic, Locus } from '@haunch/model';
import { impossibleReading, noReadings, outsideStandard, readingOffBoard } from '../diagnostics.js';
import type { SheetLimits } from './sheet-standard.js';
import type { ThicknessReading } from './thickness-reading.js';

/** No sheet varies by this share of its thickness: a reading further off is a slip. Common practice, no source. */
const IMPOSSIBLE_SHARE = 0.12;
/** A reading may lie this far outside the outline, as on the edge itself. mm */
const EDGE = 1;

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

/** What a reading may have been meant to say: its point slipped, or in inches. */
function meant(value: number, usual: number): string | undefined {
  const near = (v: number): boolean => Math.abs(v - usual) < IMPOSSIBLE_SHARE * usual;
  const tried: readonly (readonly [number, string])[] = [
    [value * 10, ''],
    [value / 10, ''],
    [value * 100, ''],
    [value / 100, ''],
    [value * 25.4, ' (the reading in inches)'],
  ];
  const hit = tried.find(([v]) => near(v));
  return hit === undefined ? undefined : `${+hit[0].toFixed(3)} mm${hit[1]}`;
}

/** Everything that makes a board's readings unusable, each with its place. */
export function readingProblems(
  readings: readonly ThicknessReading[],
  outline: Ring,
  nominal: number | undefined,
  locus: Locus,
): Diagnostic[] {
  if (readings.length === 0) return [noReadings(locus)];
  const usual = nominal ?? median(readings.map((r) => r.thickness));
  return readings.flatMap(({ thickness, at }, i) => {
    const found: Diagnostic[] = [];
    if (!(thickness > 0) || Math.abs(thickness - usual) > IMPOSSIBLE_SHARE * usual)
      found.push(impossibleReading(thickness, i, usual, meant(thickness, usual), locus));
    if (at && pointInRing(outline, at) === 'outside' && !nearRing(outline, at))
      found.push(readingOffBoard(at, i, locus));
    return found;
  });
}

/** On the outline within EDGE: the place may have been noted at the very edge. */
const nearRing = (outline: Ring, at: { readonly x: number; readonly y: number }): boolean =>
  [
    [EDGE, 0],
    [-EDGE, 0],
    [0, EDGE],
    [0, -EDGE],
  ].some(([dx, dy]) => pointInRing(outline, { x: at.x + dx!, y: at.y + dy! }) !== 'outside');

/** What a sheet's standard has against its readings. */
export function standardProblems(
  readings: readonly ThicknessReading[],
  limits: SheetLimits,
  locus: Locus,
): Diagnostic[] {
  const all = readings.map((r) => r.thickness);
  const [least, most] = [Math.min(...all), Math.max(...all)];
  const mean = all.reduce((sum, t) => sum + t, 0) / all.length;
  const mm = (v: number): string => `${+v.toFixed(2)} mm`;
  const found: Diagnostic[] = [];
  if (mean < limits.least || mean > limits.most)
    found.push(
      outsideStandard(
        limits.name,
        `a sheet must measure ${mm(limits.least)} to ${mm(limits.most)}; this one measures ${mm(mean)}`,
        locus,
      ),
    );
  if (limits.within !== null && most - least > limits.within)
    found.push(
      outsideStandard(
        limits.name,
        `a sheet may vary ${mm(limits.within)} in itself; this one's readings are ${mm(most - least)} apart`,
        locus,
      ),
    );
  return found;
}
