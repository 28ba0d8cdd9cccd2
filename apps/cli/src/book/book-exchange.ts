import { formatDayBook, newEntries, readExchange } from '@haunch/gauge';
import { Command } from 'commander';
import { enterInDayBook, openDayBook, openKeptDayBook } from '../day-book-file.js';
import { DONE, exitCodeOf, say, UsageError } from '../exit.js';
import { readInput, writeOutput } from '../files.js';
import { counted, line } from './book-line.js';

/** `haunch book export --out <file>`: the whole book as one document. */
export const bookExportCommand = (exit: (code: number) => void): Command =>
  new Command('export')
    .description('write the whole day book as one JSON document, to keep or hand on')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .requiredOption('--out <file>', 'the file to write')
    .option('--replace', 'overwrite what is there')
    .action((options: { readonly book: string; readonly out: string; readonly replace?: boolean }) => {
      const { entries } = openKeptDayBook(options.book);
      if (entries.length === 0) throw new UsageError(`${options.book} holds nothing to export`);
      writeOutput(options.out, formatDayBook(entries), options.replace === true);
      line(`${counted(entries.length, 'entry', 'entries')} written to ${options.out}`);
      exit(DONE);
    });

/** `haunch book import <file>`: what another book knows and this one does not. */
export const bookImportCommand = (exit: (code: number) => void): Command =>
  new Command('import')
    .description('append what an exported day book, or another day book, holds and this one does not')
    .argument('<file>', 'an exported day book (.json) or a day book (.jsonl)')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .action((file: string, { book }: { readonly book: string }) => {
      const read = readExchange(new TextDecoder().decode(readInput(file)), file);
      say(read.diagnostics);
      if (!read.ok) return exit(exitCodeOf(read.diagnostics));
      const fresh = newEntries(openDayBook(book).entries, read.value.entries);
      if (fresh.length > 0) enterInDayBook(book, fresh);
      line(
        `${counted(fresh.length, 'entry', 'entries')} added, ${read.value.entries.length - fresh.length} known already`,
      );
      exit(DONE);
    });
