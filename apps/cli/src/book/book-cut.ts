import { type DayBookEntry, timesCut } from '@haunch/gauge';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openDayBook } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { counted, cutterWords, line, named } from './book-line.js';
import { madeFolder } from './made-folder.js';

interface CutOptions {
  readonly book: string;
  readonly board: readonly string[];
  readonly times: number;
}

/** A count from 1. @throws InvalidArgumentError */
function timesOption(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1 || n > 10_000)
    throw new InvalidArgumentError(`'${text}' is no number of times from 1`);
  return n;
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
    .action((path: string, { book, board: wanted, times }: CutOptions) => {
      const { report, programs } = madeFolder(path);
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
      if (fresh.length > 0) enterInDayBook(book, fresh);
      const after = openDayBook(book).entries;
      const used = new Set(fresh.flatMap((e) => (e.kind === 'cut' ? e.runs.map((r) => r.cutter) : [])));
      for (const c of report.cutters)
        if (used.has(c.id) && c.kind === 'router') line(cutterWords(after, c.id, c.diameter));
      if (fresh.length > 0)
        line('what is left of the boards: haunch book off-cut; how the joints felt: haunch book felt');
      exit(DONE);
    });
