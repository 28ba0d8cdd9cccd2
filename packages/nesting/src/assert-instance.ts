import type { NestingInstance } from '@haunch/model';

/**
 * Refuses an instance that no caller may hand over.
 * @throws RangeError when spacing or edge margin is negative or not finite, or a board's cost is not above 0.
 */
export function assertInstance({ spacing, edgeMargin, boards }: NestingInstance): void {
  if (!(spacing >= 0 && Number.isFinite(spacing)))
    throw new RangeError(`nesting: a spacing of ${spacing} mm`);
  if (!(edgeMargin >= 0 && Number.isFinite(edgeMargin)))
    throw new RangeError(`nesting: an edge margin of ${edgeMargin} mm`);
  for (const { id, cost = 1 } of boards)
    if (!(cost > 0 && Number.isFinite(cost))) throw new RangeError(`nesting: board ${id} costs ${cost}`);
}
