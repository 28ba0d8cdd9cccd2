import { pointInRing, type Ring, ringBounds } from '@haunch/geometry';
import type { Diagnostic, Locus } from '@haunch/model';
import {
  impossibleReading,
  noReadings,
  noSuchSheet,
  outsideStandard,
  placesInCorner,
  readingOffBoard,
  readingsApart,
  tooManyReadings,
  unheldReading,
} from '../diagnostics.js';
import { MOST_READINGS } from './practice.js';
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

/** Sheets that slots are cut for are no thinner and no thicker than this, unless a label says so. mm; common practice, no source. */
const USUAL_SHEETS = [2.5, 60] as const;
const usualSheet = (t: number): boolean => t >= USUAL_SHEETS[0] && t <= USUAL_SHEETS[1];

const near = (value: number, usual: number): boolean => Math.abs(value - usual) <= IMPOSSIBLE_SHARE * usual;

/** Ways in which a figure slips, each as the figure that was meant. */
const slips = (value: number): readonly (readonly [number, string])[] => [
  [value * 10, ''],
  [value / 10, ''],
  [value * 100, ''],
  [value / 100, ''],
  [value * 25.4, ' (the reading in inches)'],
];

/** What a reading may have been meant to say: its point slipped, or in inches. */
function meant(value: number, goes: (v: number) => boolean): string | undefined {
  const hits = slips(value).filter(([v]) => goes(v));
  return hits.length === 0 ? undefined : hits.map(([v, how]) => `${+v.toFixed(3)} mm${how}`).join(' or ');
}

/** Whether a measure is too far from what it should be to be anything but a slip. mm */
export const cannotBe = (value: number, usual: number): boolean => !near(value, usual);

/** What a reading far off its board's thickness may have been meant to say; nothing where it is near, or no slip explains it. mm */
export const meantThickness = (value: number, usual: number): string | undefined =>
  near(value, usual) ? undefined : meant(value, (v) => near(v, usual));

/** The readings that go together, as places in the list: the largest such group about any one of them. */
function largestGroups(all: readonly number[]): readonly (readonly number[])[] {
  const groups = all.map((t) => all.flatMap((o, i) => (near(o, t) ? [i] : [])));
  const most = Math.max(...groups.map((g) => g.length));
  const largest = groups.filter((g) => g.length === most);
  return [...new Map(largest.map((g) => [g.join(), g])).values()];
}

/** The thickness that a board's readings speak for, or why they speak for none. */
function usualOf(all: readonly number[], locus: Locus): { readonly usual: number } | Diagnostic {
  const groups = largestGroups(all);
  const middle = (g: readonly number[]): number => median(g.map((i) => all[i]!));
  // Groups that share readings are one board's spread; of others, only a sheet's thickness can be meant.
  const apart = groups.filter((g) => !g.some((i) => groups[0]!.includes(i)));
  if (apart.length === 0) return { usual: middle(groups[0]!) };
  const sheets = [groups[0]!, ...apart].filter((g) => usualSheet(middle(g)));
  if (sheets.length === 1) return { usual: middle(sheets[0]!) };
  return readingsApart(groups[0]!, middle(groups[0]!), middle(apart[0]!), locus);
}

/** mm in an inch. */
const INCH = 25.4;

/** Whether a board's readings, two at least, all lie where they would if a place anywhere on it had been noted in inches. */
function inCorner(readings: readonly ThicknessReading[], outline: Ring, locus: Locus): Diagnostic[] {
  const places = readings.flatMap(({ at }) => (at ? [at] : []));
  const { minX, minY, maxX, maxY } = ringBounds(outline);
  const [x, y] = [Math.max(...places.map((p) => p.x)) - minX, Math.max(...places.map((p) => p.y)) - minY];
  const several = places.some((p) => p.x !== places[0]!.x || p.y !== places[0]!.y);
  const corner = x <= (maxX - minX) / INCH && y <= (maxY - minY) / INCH;
  return several && places.length === readings.length && corner ? [placesInCorner(x, y, locus)] : [];
}

/** Everything that makes a board's readings unusable, each with its place; and what they leave to say besides. */
export function readingProblems(
  readings: readonly ThicknessReading[],
  outline: Ring,
  nominal: number | undefined,
  locus: Locus,
): { readonly problems: Diagnostic[]; readonly notes: Diagnostic[] } {
  if (readings.length === 0) return { problems: [noReadings(locus)], notes: [] };
  if (readings.length > MOST_READINGS)
    return { problems: [tooManyReadings(readings.length, MOST_READINGS, locus)], notes: [] };
  const all = readings.map((r) => r.thickness);
  const away = readings.flatMap(({ at }, i) =>
    at && pointInRing(outline, at) === 'outside' && !nearRing(outline, at)
      ? [readingOffBoard(at, i, locus)]
      : [],
  );
  const told = nominal === undefined ? usualOf(all, locus) : { usual: nominal };
  if (!('usual' in told)) return { problems: [told, ...away], notes: [] };
  const { usual } = told;
  const problems = readings.flatMap(({ thickness }, i) =>
    thickness > 0 && near(thickness, usual)
      ? []
      : [
          impossibleReading(
            thickness,
            i,
            usual,
            nominal !== undefined,
            meant(thickness, (v) => near(v, usual)),
            locus,
          ),
        ],
  );
  const slipped = problems.length === 0 && nominal === undefined && !usualSheet(usual);
  if (slipped) problems.push(noSuchSheet(all[0]!, 0, meant(all[0]!, usualSheet), locus));
  const alone = readings.length === 1 && nominal === undefined && problems.length === 0;
  const notes = [
    ...(alone ? [unheldReading(all[0]!, locus)] : []),
    ...(away.length === 0 ? inCorner(readings, outline, locus) : []),
  ];
  return { problems: [...problems, ...away], notes };
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
