import { facingPairs } from './facing.js';
import { stepsOf } from './steps.js';
import { isSlot } from './thickness-measures.js';
import type { WallCourse } from './wall-course.js';

/** Slots of one width that are wider for a thickness than a fit makes them, all drawn with one clearance. mm */
export interface LooseWidth {
  readonly thickness: number;
  /** Between the narrowest and the widest of them. */
  readonly from: number;
  readonly to: number;
  readonly slots: number;
}

/** A clearance is drawn into slots of up to so much of the thickness. */
const LOOSEST = 0.06;
/** So many slots are alike; fewer are something else that is about as wide. */
const LEAST_ALIKE = 3;
/** Widths no further apart belong together, mm. */
const TOGETHER = 0.02;

/** The greatest width that a slot for a thickness can have, mm. */
const loosest = (thickness: number): number => (1 + LOOSEST) * thickness + 1e-9;

/**
 * Widths of closed cuts that lie beyond what `within` allows for a thickness, yet no more than 6 % above it, that three
 * or more slots share, and that nothing steps by: a step of that depth would speak for another sheet. mm
 */
export function looseWidths(
  courses: readonly WallCourse[],
  thicknesses: readonly number[],
  within: (thickness: number) => number,
): LooseWidth[] {
  const windows = thicknesses.flatMap((t) =>
    t + within(t) < loosest(t) ? [{ t, from: t + within(t), to: loosest(t) }] : [],
  );
  if (windows.length === 0) return [];
  const least = Math.min(...windows.map((w) => w.from));
  const widest = Math.max(...windows.map((w) => w.to));
  const widths = courses
    .filter((w) => w.course.air === 1)
    .flatMap((w) => {
      const walls = new Set<number>();
      return facingPairs(w, { least, widest }).flatMap((f) => {
        // A wall broken by a crossing cut bounds one slot.
        if (!isSlot(w, f.width, f.overlap) || walls.has(f.a) || walls.has(f.b)) return [];
        walls.add(f.a).add(f.b);
        return [f.width];
      });
    })
    .sort((a, b) => a - b);
  const runs: number[][] = [];
  for (const w of widths) {
    const last = runs.at(-1);
    if (last && w - last.at(-1)! <= TOGETHER) last.push(w);
    else runs.push([w]);
  }
  const alike = runs.filter((r) => r.length >= LEAST_ALIKE);
  if (alike.length === 0) return [];
  const depths = courses.filter((w) => w.course.air === -1).flatMap((w) => stepsOf(w).map((s) => s.depth));
  return alike.flatMap((run) => {
    const [from, to] = [run[0]!, run.at(-1)!];
    const window = windows.find((w) => from > w.from && to <= w.to);
    const other = depths.some((d) => d >= from - TOGETHER && d <= to + TOGETHER);
    return window && !other ? [{ thickness: window.t, from, to, slots: run.length }] : [];
  });
}
