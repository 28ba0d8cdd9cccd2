import { type BookBoard, boardsOfBook } from '@haunch/gauge';
import { JobBoardSchema } from '@haunch/job';
import { openDayBook } from '../day-book-file.js';
import { UsageError } from '../exit.js';
import { named } from './book-line.js';

/** A board's name, which must be one that a job may give it. @throws UsageError */
export function checkedName(id: string): string {
  const read = JobBoardSchema.shape.id.safeParse(id);
  if (!read.success)
    throw new UsageError(`'${id}' cannot be a board's name: ${read.error.issues[0]!.message}`);
  return id;
}

/** A board that the day book knows. @throws UsageError with those that it does know. */
export function knownBoard(book: string, id: string): BookBoard {
  const boards = boardsOfBook(openDayBook(book).entries);
  const there = boards.get(id);
  if (!there)
    throw new UsageError(
      `the day book knows no board '${id}'; it knows ${named([...boards.keys()], 'none yet (haunch gauge --book enters those of a job)')}`,
    );
  return there;
}

/** Says where a board that was entered again is still cut from, or gone. */
export function sayNotWhole(book: string, id: string): void {
  const { state } = knownBoard(book, id);
  if (state !== 'whole')
    process.stderr.write(
      `note: ${id} stays ${state === 'gone' ? 'gone' : 'cut from'} in the day book, as it is entered by its old name; --anew says that it is another one\n`,
    );
}
