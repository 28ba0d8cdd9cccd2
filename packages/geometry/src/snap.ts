/** The grid on which coordinates leave a stage: 0.0001 mm (decision 0002). */
export const GRID = 0.0001;

/**
 * Rounds a length in mm to the 0.0001 mm grid, so that a file re-reads to the same numbers.
 * Guarantees `snap(snap(v)) === snap(v)` and never returns −0.
 * @throws RangeError when `value` is not finite.
 */
export function snap(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`snap: ${value} is not a finite length`);
  return Math.round(value * 10_000) / 10_000 + 0;
}
