/** A better layout was in hand: when, after how many ticks, and how good it was. */
export interface CurvePoint {
  readonly seconds: number;
  readonly ticks: number;
  /** The figure that the trial compares: density in percent for a strip, less boards for boards. */
  readonly figure: number;
}

/** What was in hand at a time; `before` where nothing was yet. Curves are steps, not lines. */
export function figureAt(curve: readonly CurvePoint[], seconds: number, before: number): number {
  let figure = before;
  for (const p of curve) {
    if (p.seconds > seconds) break;
    figure = p.figure;
  }
  return figure;
}

/** When a figure was first reached, seconds; undefined where it never was. */
export const secondsTo = (curve: readonly CurvePoint[], figure: number): number | undefined =>
  curve.find((p) => p.figure >= figure)?.seconds;

/** A step of a share that grows: at `x` it becomes `share`. */
export interface Step {
  readonly x: number;
  readonly share: number;
}

/** The share of values at or below each x; values that are undefined never count, and are still counted in the whole. */
export function shareSteps(values: readonly (number | undefined)[]): Step[] {
  const known = values.filter((v): v is number => v !== undefined).sort((a, b) => a - b);
  const steps: Step[] = [];
  known.forEach((x, i) => {
    if (known[i + 1] !== x) steps.push({ x, share: (i + 1) / values.length });
  });
  return steps;
}

/**
 * Performance profiles (E. Dolan and J. Moré, "Benchmarking optimization software with performance profiles",
 * Mathematical Programming 91, 2002): for each solver the share of problems on which its cost is within a factor of
 * the least cost of any. `costs[solver][problem]`: above 0, or undefined where it found nothing.
 * @throws RangeError for a cost that is not above 0.
 */
export function performanceProfiles(costs: readonly (readonly (number | undefined)[])[]): Step[][] {
  for (const row of costs)
    for (const c of row)
      if (c !== undefined && !(c > 0)) throw new RangeError(`performanceProfiles: a cost of ${c}`);
  const least = (costs[0] ?? []).map((_, k) =>
    Math.min(...costs.map((row) => row[k] ?? Number.POSITIVE_INFINITY)),
  );
  return costs.map((row) => shareSteps(row.map((c, k) => (c === undefined ? undefined : c / least[k]!))));
}
