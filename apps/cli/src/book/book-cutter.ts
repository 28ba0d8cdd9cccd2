import { cutterHistoryOf } from '@haunch/gauge';
import { cutterInWords } from '@haunch/job/shop-book';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openDayBook } from '../day-book-file.js';
import { DONE } from '../exit.js';
import { line } from './book-line.js';

/** Metres greater than zero. @throws InvalidArgumentError */
function metresOption(text: string): number {
  const n = Number(text.replace(/ ?m$/, ''));
  if (!(n > 0 && n < 1e6)) throw new InvalidArgumentError(`'${text}' is no length in metres, such as 120`);
  return n;
}

/** `haunch book ground <cutter>`: its diameter is unknown until the next ladder. */
export const bookGroundCommand = (exit: (code: number) => void): Command =>
  new Command('ground')
    .description(
      'enter that a cutter was ground, or another put in its place: the next job asks for a new ladder',
    )
    .argument('<cutter>', "the cutter's id in the job")
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .option('--swapped', 'another cutter was put in its place')
    .action((cutter: string, options: { readonly book: string; readonly swapped?: boolean }) => {
      const before = cutterHistoryOf(openDayBook(options.book).entries, cutter);
      const why = options.swapped ? 'swapped' : 'ground';
      enterInDayBook(options.book, [
        { v: 2, kind: 'ground', when: now(), cutter, grinding: before.grinding + 1, why },
      ]);
      line(
        `${cutter} was ${why} after ${before.metres.toFixed(1)} m; it needs a new ladder before the next job`,
      );
      exit(DONE);
    });

/** `haunch book ran <cutter> --metres 12`: it cut something else. */
export const bookRanCommand = (exit: (code: number) => void): Command =>
  new Command('ran')
    .description('enter how far a cutter ran in programs that haunch did not write')
    .argument('<cutter>', "the cutter's id in the job")
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .requiredOption('--metres <metres>', 'how far', metresOption)
    .action((cutter: string, options: { readonly book: string; readonly metres: number }) => {
      enterInDayBook(options.book, [{ v: 2, kind: 'ran', when: now(), cutter, metres: options.metres }]);
      line(cutterInWords(openDayBook(options.book).entries, cutter));
      exit(DONE);
    });
