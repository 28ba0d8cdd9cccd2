import type { Interval } from './plate-layers.js';

/** How two strips complement each other: shift of the second along the first, and how many ends then meet. mm */
export interface BandFit {
  readonly turned: boolean;
  readonly shift: number;
  readonly ends: number;
}

/** How far two ends may stand apart, or press into each other, and still meet. mm */
export const END_SLACK = 0.75;
export const END_PRESS = 0.3;

/** How long the two lists run in common, the second moved by `shift`. */
export function common(a: readonly Interval[], b: readonly Interval[], shift = 0): number {
  let sum = 0;
  for (const p of a)
    for (const q of b) {
      const to = Math.min(p[1], q[1] + shift);
      const from = Math.max(p[0], q[0] + shift);
      if (to > from) sum += to - from;
    }
  return sum;
}

/** Whether two lists in order, the second moved by `shift`, run longer in common than `most`. */
function commonBeyond(a: readonly Interval[], b: readonly Interval[], shift: number, most: number): boolean {
  let sum = 0;
  for (const p of a)
    for (const q of b) {
      if (q[0] + shift >= p[1]) break;
      const to = Math.min(p[1], q[1] + shift);
      const from = Math.max(p[0], q[0] + shift);
      if (to > from) {
        sum += to - from;
        if (sum > most) return true;
      }
    }
  return sum > most;
}

/** Of two lists in order: how many ends of the one meet beginnings of the other, moved by `shift`, and the mean of what stays open or presses there. */
export function meetings(
  a: readonly Interval[],
  b: readonly Interval[],
  shift = 0,
): { ends: number; mean: number } {
  let ends = 0;
  let low = 0;
  let lows = 0;
  let high = 0;
  let highs = 0;
  for (const p of a)
    for (const q of b) {
      const after = q[0] + shift - p[1];
      // What comes after lies farther away still.
      if (after > END_SLACK) break;
      const before = p[0] - (q[1] + shift);
      if (after >= -END_PRESS && after <= END_SLACK) {
        ends++;
        lows++;
        low += after;
      }
      if (before >= -END_PRESS && before <= END_SLACK) {
        ends++;
        highs++;
        high += before;
      }
    }
  const mean =
    lows > 0 && highs > 0
      ? (low / lows - high / highs) / 2
      : lows > 0
        ? low / lows
        : highs > 0
          ? -high / highs
          : 0;
  return { ends, mean };
}

const turnedRound = (a: readonly Interval[]): Interval[] => a.map(([p, q]): Interval => [-q, -p]).reverse();

/** The shifts at which the material of the second fits into the gaps of the first and at least `least` ends meet. */
export function fitBands(a: readonly Interval[], b: readonly Interval[], least: number): BandFit[] {
  const out: BandFit[] = [];
  // As a shift is put right twice, by what may stand open each time, no stretch changes by more.
  const hopeless = (2 * END_PRESS + 2 * END_SLACK) * Math.min(a.length, b.length) + 0.05;
  for (const turned of [false, true]) {
    const c = turned ? turnedRound(b) : b;
    const tried: number[] = [];
    for (const p of a)
      for (const q of c)
        for (const at of [p[1] - q[0], p[0] - q[1]]) {
          if (commonBeyond(a, c, at, hopeless)) continue;
          let shift = at;
          for (let k = 0; k < 2; k++) shift -= meetings(a, c, shift).mean;
          if (tried.some((t) => Math.abs(t - shift) < 0.2)) continue;
          tried.push(shift);
          const { ends } = meetings(a, c, shift);
          if (ends >= least && !commonBeyond(a, c, shift, END_PRESS * ends + 0.05))
            out.push({ turned, shift, ends });
        }
  }
  return out;
}

/** Shifts nearer to each other are one. mm */
const ONE_SHIFT = 0.2;

/** How much longer than a groove that runs out what stands in it may be. mm */
const PAST_GROOVE = 60;

/**
 * The shifts at which the second stands in a groove of the first that no end bounds, `along` it: at either end of it or
 * in its middle, and only there where it is longer than the groove, as a bottom is that goes into other grooves too.
 */
export function fitGroove(along: Interval, b: readonly Interval[]): BandFit[] {
  if (b.length === 0) return [];
  const [low, high] = [b[0]![0], b.at(-1)![1]];
  const longer = high - low - (along[1] - along[0]);
  if (longer > PAST_GROOVE) return [];
  const shifts = [
    (along[0] + along[1] - low - high) / 2,
    ...(longer < ONE_SHIFT ? [along[0] - low, along[1] - high] : []),
  ].filter((s, k, all) => all.findIndex((o) => Math.abs(o - s) < ONE_SHIFT) === k);
  const out: BandFit[] = shifts.map((shift) => ({ turned: false, shift, ends: 0 }));
  // Turned round, what lies from low to high runs from shift − high to shift − low.
  return [...out, ...shifts.map((s): BandFit => ({ turned: true, shift: s + low + high, ends: 0 }))];
}
