import { type ProposedClearance, proposeDefaults } from '@haunch/gauge';
import { proposalInWords, proposedTable } from '@haunch/job/shop-book';
import { Command } from 'commander';
import { openKeptDayBook } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { writeOutput } from '../files.js';
import { line } from './book-line.js';

/** Prints what a day book proposes for the shop's own table; nothing is applied. */
export function printProposals(proposals: readonly ProposedClearance[]): void {
  if (proposals.length === 0) line('nothing was felt yet, so nothing is proposed');
  for (const p of proposals) line(`  ${proposalInWords(p)}`);
  if (proposals.length > 0)
    line('proposals only, nothing was changed: haunch book propose --out writes them as a table of fits');
}

/** `haunch book propose`: which clearances the shop's own past speaks for. */
export const bookProposeCommand = (exit: (code: number) => void): Command =>
  new Command('propose')
    .description(
      "propose clearances for the shop's own table of fits, from ladders and joints felt; nothing is applied",
    )
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .option('--out <file>', 'write them as a haunch-fits file, for jobs that name it')
    .option('--replace', 'overwrite what is there')
    .action((options: { readonly book: string; readonly out?: string; readonly replace?: boolean }) => {
      const proposals = proposeDefaults(openKeptDayBook(options.book).entries);
      printProposals(proposals);
      if (options.out !== undefined) {
        if (proposals.length === 0)
          throw new UsageError(`nothing is proposed, so ${options.out} was not written`);
        writeOutput(options.out, proposedTable(proposals), options.replace === true);
        line(`written: ${options.out}; jobs that name it as "table" under "fit" use it`);
      }
      exit(DONE);
    });
