import { boardsOfBook, type DayBookEntry, findSwapped, fitThicknessMap } from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import type { Board, Diagnostic } from '@haunch/model';

/** Boards whose readings each go with what the day book has of another one: their sheets were taken for each other. */
export function swappedWithBook(
  entries: readonly DayBookEntry[],
  boards: readonly Board[],
  file: string,
): Diagnostic[] {
  const known = boardsOfBook(entries);
  const measured = boards.flatMap(({ id, readings }) => {
    const there = known.get(id);
    if (!there || there.offCut) return [];
    const earlier = fitThicknessMap(there.readings, rectangleRing(0, 0, there.width, there.height));
    return earlier.ok ? [{ id, readings, earlier: earlier.value, locus: { file, board: id } }] : [];
  });
  return findSwapped(measured).map((s) => s.diagnostic);
}
