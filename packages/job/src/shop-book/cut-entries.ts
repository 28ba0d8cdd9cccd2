import { boardsOfBook, type DayBookEntry, inOffCut, timesCut } from '@haunch/gauge';
import type { MadeRecord } from './made-record.js';

type CutEntry = Extract<DayBookEntry, { kind: 'cut' }>;
type OffCutEntry = Extract<DayBookEntry, { kind: 'off-cut' }>;

/** What is entered of a board of a make: nothing where the book has it as cut so often already. */
export type CutOfBoard =
  | { readonly board: string; readonly entry: CutEntry }
  | { readonly board: string; readonly known: number };

/** The boards of a make as cut `times` in all so far; `wanted` alone where any are named. */
export const cutEntries = (
  book: readonly DayBookEntry[],
  { report, programs }: MadeRecord,
  {
    wanted = [],
    times,
    when,
  }: { readonly wanted?: readonly string[]; readonly times: number; readonly when: string },
): CutOfBoard[] =>
  report.boards
    .filter((b) => wanted.length === 0 || wanted.includes(b.id))
    .map((b): CutOfBoard => {
      const program = programs.get(b.id)!;
      const known = timesCut(book, program);
      if (known >= times) return { board: b.id, known };
      return {
        board: b.id,
        entry: { v: 2, kind: 'cut', when, job: report.title, board: b.id, program, times, runs: b.runs },
      };
    });

/** What is entered of something that is left of a board, or why nothing is. */
export type OffCutOfBoard =
  | {
      readonly id: string;
      readonly entry: OffCutEntry;
      readonly at: { readonly x: number; readonly y: number };
    }
  | { readonly id: string; readonly why: 'name is taken' | 'board is unknown'; readonly board: string };

/** What is left of the boards that are entered as cut; names that the book knows already are not given again. */
export function offCutEntries(
  book: readonly DayBookEntry[],
  { left }: MadeRecord,
  cut: readonly DayBookEntry[],
  when: string,
): OffCutOfBoard[] {
  const known = boardsOfBook(book);
  const boards = cut.flatMap((e) => (e.kind === 'cut' ? [e.board] : []));
  return left.flatMap(({ id, width, height, at }): OffCutOfBoard[] => {
    const board = boards.filter((b) => id.startsWith(`${b}-rest`)).sort((a, b) => b.length - a.length)[0];
    if (board === undefined) return [];
    const parent = known.get(board);
    if (!parent) return [{ id, why: 'board is unknown', board }];
    if (known.has(id)) return [{ id, why: 'name is taken', board }];
    // The book counts from the board that it was cut from, which may be an off-cut itself.
    const { x, y } = parent.offCut ? inOffCut(parent.offCut.motion, at) : at;
    const motion = { turnedOver: false, turn: 0, x, y };
    return [
      {
        id,
        at: { x, y },
        entry: { v: 2, kind: 'off-cut', when, board: id, parent: board, width, height, motion },
      },
    ];
  });
}
