import { type Diagnostic, type Locus, type ThicknessMap, thicknessAt } from '@haunch/model';
import { swappedReadings } from '../diagnostics.js';
import { USUAL_REPEATABILITY } from './practice.js';
import type { ThicknessReading } from './thickness-reading.js';

/** A board's readings with what was known of it before: its label's thickness, a map of readings taken earlier, or both. mm */
export interface BoardReadings {
  readonly id: string;
  readonly readings: readonly ThicknessReading[];
  readonly nominal?: number;
  readonly earlier?: ThicknessMap;
  readonly locus: Locus;
}

/** A sheet differs from its label by this standard deviation, and has changed with the air by that since it was measured. mm; common practice, no source. */
const FROM_LABEL = 0.3;
const SINCE_THEN = 0.06;
/** Swapped is said when that is e⁶, some 400, times as likely as not. */
const ODDS = 6;
/** Readings go with a board within four standard deviations. */
const GOES = 4 ** 2 / 2;

const meanOf = (readings: readonly ThicknessReading[]): number =>
  readings.reduce((sum, r) => sum + r.thickness, 0) / readings.length;

/** How unlikely readings are for a board, as half the square of the distance in standard deviations, and by what it was told. */
function strangeness(
  readings: readonly ThicknessReading[],
  board: BoardReadings,
): { readonly by: 'label' | 'earlier'; readonly value: number } | undefined {
  const { earlier, nominal } = board;
  if (earlier) {
    const centre = earlier.coefficients[0]!;
    const [off, u2] = readings.reduce(
      ([sum, variance], { thickness, at }): readonly [number, number] => {
        const there = at
          ? thicknessAt(earlier, at)
          : { thickness: centre, u: thicknessAt(earlier, earlier.centre).u };
        return [sum + thickness - there.thickness, variance + there.u ** 2];
      },
      [0, 0] as const,
    );
    // One mean of all: the map's doubt is shared between its places, so it is not lessened by their number.
    const u = Math.hypot(Math.sqrt(u2 / readings.length), SINCE_THEN, USUAL_REPEATABILITY);
    return { by: 'earlier', value: (off / readings.length / u) ** 2 / 2 };
  }
  return nominal === undefined
    ? undefined
    : { by: 'label', value: ((meanOf(readings) - nominal) / FROM_LABEL) ** 2 / 2 };
}

/**
 * Pairs of boards of which each one's readings go better with the other: both at once, and some 400 times more likely so than as
 * given. Judged by maps of earlier readings where both boards have one, else by their labels.
 */
export function findSwapped(boards: readonly BoardReadings[]): {
  readonly boards: readonly [string, string];
  readonly diagnostic: Diagnostic;
}[] {
  const known = boards.filter((b) => b.readings.length > 0);
  return known.flatMap((a, i) =>
    known.slice(i + 1).flatMap((b) => {
      const [own, other] = [
        [strangeness(a.readings, a), strangeness(b.readings, b)],
        [strangeness(b.readings, a), strangeness(a.readings, b)],
      ];
      if (!own[0] || !own[1] || !other[0] || !other[1] || own[0].by !== own[1].by) return [];
      const better = own[0].value > other[1].value && own[1].value > other[0].value;
      const odds = own[0].value + own[1].value - other[0].value - other[1].value;
      const goes = Math.max(other[0].value, other[1].value) <= GOES;
      if (!better || !goes || odds < ODDS) return [];
      const diagnostic = swappedReadings(
        a.id,
        meanOf(a.readings),
        b.id,
        meanOf(b.readings),
        own[0].by,
        a.locus,
      );
      return [{ boards: [a.id, b.id] as const, diagnostic }];
    }),
  );
}
