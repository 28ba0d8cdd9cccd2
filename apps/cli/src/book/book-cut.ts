import { boardsOfBook, type DayBookEntry, inOffCut, timesCut } from '@haunch/gauge';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openDayBook } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { counted, cutterWords, line, named } from './book-line.js';
import { type LeftOver, madeFolder } from './made-folder.js';

interface CutOptions {
  readonly book: string;
  readonly board: readonly string[];
  readonly times: number;
  readonly offCuts?: boolean;
}

/** A count from 1. @throws InvalidArgumentError */
function timesOption(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1 || n > 10_000)
    throw new InvalidArgumentError(`'${text}' is no number of times from 1`);
  return n;
}

/** What is left of the boards that are entered as cut, as lines of the book; names that it knows already are not given again. */
function enteredOffCuts(
  book: string,
  left: readonly LeftOver[],
  cut: readonly DayBookEntry[],
): DayBookEntry[] {
  const known = boardsOfBook(openDayBook(book).entries);
  const boards = cut.flatMap((e) => (e.kind === 'cut' ? [e.board] : []));
  return left.flatMap(({ id, width, height, at }): DayBookEntry[] => {
    const board = boards.filter((b) => id.startsWith(`${b}-rest`)).sort((a, b) => b.length - a.length)[0];
    const parent = board === undefined ? undefined : known.get(board);
    if (board === undefined) return [];
    if (!parent || known.has(id)) {
      line(
        parent
          ? `${id}: the book has one of this name; nothing was added`
          : `${id}: the book knows no ${board}; not entered`,
      );
      return [];
    }
    // The book counts from the board that it was cut from, which may be an off-cut itself.
    const { x, y } = parent.offCut ? inOffCut(parent.offCut.motion, at) : at;
    line(`${id}: ${width} × ${height} mm of ${board}, from (${x}, ${y}); entered`);
    const motion = { turnedOver: false, turn: 0, x, y };
    return [{ v: 2, kind: 'off-cut', when: now(), board: id, parent: board, width, height, motion }];
  });
}

/** `haunch book cut <made>`: the programs of a make were cut. */
export const bookCutCommand = (exit: (code: number) => void): Command =>
  new Command('cut')
    .description('enter that the programs of a make were cut: boards are used, cutters have run so far')
    .argument('<made>', 'the folder that haunch make wrote')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .option(
      '--board <id>',
      'this board alone; may be repeated',
      (id: string, before: readonly string[]) => [...before, id],
      [],
    )
    .option('--times <n>', 'how often in all, so far', timesOption, 1)
    .option('--off-cuts', 'enter what is left of these boards too, where the book knows them')
    .action((path: string, { book, board: wanted, times, offCuts }: CutOptions) => {
      const { report, programs, left } = madeFolder(path);
      const ids = report.boards.map((b) => b.id);
      const strange = wanted.find((id) => !ids.includes(id));
      if (strange !== undefined)
        throw new UsageError(`no board '${strange}' was made there; ${named(ids, 'there is none')} were`);
      const before = openDayBook(book).entries;
      const fresh: DayBookEntry[] = [];
      for (const b of report.boards) {
        if (wanted.length > 0 && !wanted.includes(b.id)) continue;
        const program = programs.get(b.id)!;
        const known = timesCut(before, program);
        if (known >= times) {
          line(
            `${b.id}: already entered as cut ${counted(known, 'time')}; nothing was added (cut once more? --times ${known + 1})`,
          );
          continue;
        }
        fresh.push({
          v: 2,
          kind: 'cut',
          when: now(),
          job: report.title,
          board: b.id,
          program,
          times,
          runs: b.runs,
        });
        line(
          `${b.id}: cut ${counted(times, 'time')}; ${b.runs.map((r) => `${r.cutter} ${r.metres.toFixed(1)} m`).join(', ')} each`,
        );
      }
      if (offCuts) fresh.push(...enteredOffCuts(book, left, fresh));
      if (fresh.length > 0) enterInDayBook(book, fresh);
      const after = openDayBook(book).entries;
      const used = new Set(fresh.flatMap((e) => (e.kind === 'cut' ? e.runs.map((r) => r.cutter) : [])));
      for (const c of report.cutters)
        if (used.has(c.id) && c.kind === 'router') line(cutterWords(after, c.id, c.diameter));
      if (fresh.length > 0 && !offCuts)
        line('what is left of the boards: haunch book off-cut; how the joints felt: haunch book felt');
      exit(DONE);
    });
