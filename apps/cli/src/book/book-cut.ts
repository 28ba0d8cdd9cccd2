import type { DayBookEntry } from '@haunch/gauge';
import { cutEntries, cutterInWords, type MadeRecord, offCutEntries } from '@haunch/job/shop-book';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openDayBook } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { counted, line, named } from './book-line.js';
import { madeFolder } from './made-folder.js';

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

/** What is left of the boards that are entered as cut, as lines of the book; what is not entered is said. */
function enteredOffCuts(book: string, made: MadeRecord, cut: readonly DayBookEntry[]): DayBookEntry[] {
  return offCutEntries(openDayBook(book).entries, made, cut, now()).flatMap((o): DayBookEntry[] => {
    if ('why' in o) {
      line(
        o.why === 'name is taken'
          ? `${o.id}: the book has one of this name; nothing was added`
          : `${o.id}: the book knows no ${o.board}; not entered`,
      );
      return [];
    }
    const { width, height, parent } = o.entry;
    line(`${o.id}: ${width} × ${height} mm of ${parent}, from (${o.at.x}, ${o.at.y}); entered`);
    return [o.entry];
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
    .action(async (path: string, { book, board: wanted, times, offCuts }: CutOptions) => {
      const made = await madeFolder(path);
      const { report } = made;
      const ids = report.boards.map((b) => b.id);
      const strange = wanted.find((id) => !ids.includes(id));
      if (strange !== undefined)
        throw new UsageError(`no board '${strange}' was made there; ${named(ids, 'there is none')} were`);
      const before = openDayBook(book).entries;
      const fresh: DayBookEntry[] = [];
      for (const cut of cutEntries(before, made, { wanted, times, when: now() })) {
        if ('known' in cut) {
          const { board: id, known } = cut;
          line(
            `${id}: already entered as cut ${counted(known, 'time')}; nothing was added (cut once more? --times ${known + 1})`,
          );
          continue;
        }
        fresh.push(cut.entry);
        line(
          `${cut.board}: cut ${counted(times, 'time')}; ${cut.entry.runs.map((r) => `${r.cutter} ${r.metres.toFixed(1)} m`).join(', ')} each`,
        );
      }
      if (offCuts) fresh.push(...enteredOffCuts(book, made, fresh));
      if (fresh.length > 0) enterInDayBook(book, fresh);
      const after = openDayBook(book).entries;
      const used = new Set(fresh.flatMap((e) => (e.kind === 'cut' ? e.runs.map((r) => r.cutter) : [])));
      for (const c of report.cutters)
        if (used.has(c.id) && c.kind === 'router') line(cutterInWords(after, c.id, c.diameter));
      if (fresh.length > 0 && !offCuts)
        line('what is left of the boards: haunch book off-cut; how the joints felt: haunch book felt');
      exit(DONE);
    });
