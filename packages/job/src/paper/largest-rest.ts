import type { Box } from '@haunch/geometry';

/**
 * The largest rectangle of a board that none of the boxes enters, as [x, y, width, height]; null where nothing is left. Of those alike in
 * area the leftmost, then the lowest. Its sides lie on those of the boxes or the board, so that trying these is exact. mm
 */
export function largestRest(
  board: Box,
  boxes: readonly Box[],
): readonly [number, number, number, number] | null {
  const inX = (v: number): boolean => v >= board.minX && v <= board.maxX;
  const sorted = (vs: readonly number[]): number[] => [...new Set(vs.filter(inX))].sort((a, b) => a - b);
  const lefts = sorted([board.minX, ...boxes.map((b) => b.maxX)]);
  const rights = sorted([board.maxX, ...boxes.map((b) => b.minX)]);
  const byY = [...boxes].sort((a, b) => a.minY - b.minY || a.maxY - b.maxY);
  let best: readonly [number, number, number, number] | null = null;
  let most = 0;
  for (const x0 of lefts)
    for (const x1 of rights) {
      if (x1 <= x0 || (x1 - x0) * (board.maxY - board.minY) <= most) continue;
      let free = board.minY;
      const take = (until: number): void => {
        if ((until - free) * (x1 - x0) > most + 1e-6) {
          most = (until - free) * (x1 - x0);
          best = [x0, free, x1 - x0, until - free];
        }
      };
      for (const b of byY) {
        if (b.maxX <= x0 || b.minX >= x1) continue;
        take(Math.min(b.minY, board.maxY));
        free = Math.max(free, b.maxY);
      }
      take(board.maxY);
    }
  return best;
}
