import { Command } from 'commander';
import { bookBoardCommand } from './book/book-board.js';
import { bookCutCommand } from './book/book-cut.js';
import { bookGroundCommand, bookRanCommand } from './book/book-cutter.js';
import { bookExportCommand, bookImportCommand } from './book/book-exchange.js';
import { bookFeltCommand } from './book/book-felt.js';
import { bookForJobCommand, bookGoneCommand, bookOffCutCommand } from './book/book-off-cut.js';
import { bookProposeCommand } from './book/book-propose.js';
import { bookShowCommand } from './book/book-show.js';

/** `haunch book …`: what happened in the shop, entered once and never changed. */
export function bookCommand(exit: (code: number) => void): Command {
  const book = new Command('book').description(
    "the shop's day book: enter what was measured, cut and felt; see what it knows and proposes",
  );
  for (const command of [
    bookShowCommand(exit),
    bookBoardCommand(exit),
    bookCutCommand(exit),
    bookOffCutCommand(exit),
    bookGoneCommand(exit),
    bookForJobCommand(exit),
    bookFeltCommand(exit),
    bookGroundCommand(exit),
    bookRanCommand(exit),
    bookProposeCommand(exit),
    bookExportCommand(exit),
    bookImportCommand(exit),
  ]) {
    command.exitOverride();
    book.addCommand(command);
  }
  return book;
}
