import { type Diagnostic, fail, formatJsonPath, issueText, type Outcome, ok } from '@haunch/model';
import { dayBookLine, dayBookNewer } from '../diagnostics.js';
import type { DayBookEntry } from './day-book-entry.js';
import { DAY_BOOK_VERSION, type DayBook, readDayBook, readEntry } from './read-day-book.js';

/** An entry as text that does not depend on the order of its fields. */
const canonical = (value: unknown): string =>
  JSON.stringify(value, (_, v: unknown) =>
    typeof v === 'object' && v !== null && !Array.isArray(v)
      ? Object.fromEntries(Object.entries(v).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : v,
  );

/** A day book as one JSON document, `haunch-day-book`, to hand on or keep. */
export const formatDayBook = (entries: readonly DayBookEntry[]): string =>
  `${JSON.stringify({ format: 'haunch-day-book', version: DAY_BOOK_VERSION, entries }, null, 1)}\n`;

/** Reads what `formatDayBook` wrote, of this version or an earlier one, or a day book as JSON Lines. Places count entries from 1. */
export function readExchange(text: string, file: string): Outcome<DayBook> {
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return readDayBook(text, file);
  }
  if (typeof document !== 'object' || document === null || !('format' in document))
    return readDayBook(text, file);
  const { format, version, entries: list } = document as Record<string, unknown>;
  if (format !== 'haunch-day-book' || !Array.isArray(list))
    return fail(dayBookLine('it is no exported day book', { file, path: 'format' }));
  if (typeof version !== 'number' || version > DAY_BOOK_VERSION)
    return fail(dayBookNewer(Number(version), DAY_BOOK_VERSION, { file, path: 'version' }));
  const entries: DayBookEntry[] = [];
  const problems: Diagnostic[] = [];
  list.forEach((value, i) => {
    const read = readEntry(value);
    if ('entry' in read) entries.push(read.entry);
    else
      for (const issue of read.issues.slice(0, 3))
        problems.push(
          dayBookLine(issueText(issue), { file, path: formatJsonPath(['entries', i, ...issue.path]) }),
        );
  });
  return problems.length > 0 ? fail(...problems) : ok({ kind: 'day-book', entries, torn: null });
}

/** Those of the incoming entries that a book does not hold yet, each once, in their order: importing twice adds nothing. */
export function newEntries(book: readonly DayBookEntry[], incoming: readonly DayBookEntry[]): DayBookEntry[] {
  const seen = new Set(book.map(canonical));
  return incoming.filter((e) => {
    const text = canonical(e);
    if (seen.has(text)) return false;
    seen.add(text);
    return true;
  });
}
