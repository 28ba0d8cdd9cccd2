import type { Board, Machine, Place } from '@haunch/model';

/** Where the zeros of the machine's work offsets lie in the board's frame, for a reader; nothing where it has one only. */
export function originsOf(
  { workOffset = 1, secondOffset, zZero }: Pick<Machine, 'workOffset' | 'secondOffset' | 'zZero'>,
  { thickness }: Pick<Board, 'thickness'>,
): { readonly origins?: ReadonlyMap<number, Place> } {
  if (secondOffset === undefined || workOffset > 6) return {};
  return {
    origins: new Map([
      [53 + workOffset, { x: 0, y: 0, z: 0 }],
      [53 + secondOffset, { x: 0, y: 0, z: zZero === 'bed' ? thickness : -thickness }],
    ]),
  };
}
