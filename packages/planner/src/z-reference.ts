import type { Board, Machine, Workingstep } from '@haunch/model';
import type { Operation } from './operation.js';

/** From where a depth is measured. */
export type ZFrom = 'top' | 'bed';

/** Whether an operation goes through the sheet, so that what it leaves below is asked for, and not its depth. */
const goesThrough = (o: Operation, { thickness }: Pick<Board, 'thickness'>): boolean =>
  o.depths.at(-1)! >= thickness - 1e-6 || o.freeing !== undefined;

/** From where an operation is measured: its own face where the machine has both zeros, else the machine's one. */
export function zFrom(
  o: Operation,
  { zZero, secondOffset }: Pick<Machine, 'zZero' | 'secondOffset'>,
  board: Pick<Board, 'thickness'>,
): ZFrom {
  if (secondOffset === undefined) return zZero;
  return goesThrough(o, board) ? 'bed' : 'top';
}

/**
 * What a sheet that is thicker than its reading does. Measured from the bed, a recess becomes deeper by the difference, and a cut through
 * the sheet stays as deep in the bed; measured from the top, a recess keeps its depth, and a cut through the sheet ends higher by the
 * difference and may leave a skin. A thinner sheet does the opposite.
 */
export function referenceOf(
  o: Operation,
  machine: Pick<Machine, 'zZero' | 'secondOffset'>,
  board: Pick<Board, 'thickness'>,
): NonNullable<Workingstep['reference']> {
  const from = zFrom(o, machine, board);
  if (goesThrough(o, board)) return { from, thicker: from === 'bed' ? 'the same' : 'shallower' };
  return { from, thicker: from === 'bed' ? 'deeper' : 'the same' };
}

/** The work offset in which an operation counts, and the height of its Z zero in the program; undefined with one offset for all. */
export function offsetOf(
  from: ZFrom,
  { zZero, secondOffset, workOffset = 1 }: Pick<Machine, 'zZero' | 'secondOffset' | 'workOffset'>,
  { thickness }: Pick<Board, 'thickness'>,
): { readonly code: number; readonly z: number } | undefined {
  if (secondOffset === undefined) return undefined;
  if (from === zZero) return { code: 53 + workOffset, z: 0 };
  return { code: 53 + secondOffset, z: zZero === 'bed' ? thickness : -thickness };
}
