import type { NestingInstance } from '@haunch/model';

/**
 * Refuses an instance that no caller may hand over.
 * @throws RangeError when spacing or edge margin is negative or not finite.
 */
export function assertInstance({ spacing, edgeMargin }: NestingInstance): void {
  if (!(spacing >= 0 && Number.isFinite(spacing)))
    throw new RangeError(`nesting: a spacing of ${spacing} mm`);
  if (!(edgeMargin >= 0 && Number.isFinite(edgeMargin)))
    throw new RangeError(`nesting: an edge margin of ${edgeMargin} mm`);
}
