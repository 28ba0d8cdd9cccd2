import {
  type Diagnostic,
  fail,
  formatJsonPath,
  issueText,
  type Outcome,
  ok,
  type SchemaIssue,
} from '@haunch/model';
import { dayBookLine, dayBookNewer, dayBookTorn } from '../diagnostics.js';
import { type DayBookEntry, DayBookEntrySchema } from './day-book-entry.js';
import { migrateEntry } from './migrate-entry.js';

/** The version of day book lines that is written. */
export const DAY_BOOK_VERSION = 2;

/** A shop's day book, read. */
export interface DayBook {
  readonly kind: 'day-book';
  readonly entries: readonly DayBookEntry[];
  /** The last line where it was torn off in the middle (a power cut): nothing is lost but that line, which is kept here. */
  readonly torn: string | null;
}

const versionOf = (value: unknown): unknown =>
  typeof value === 'object' && value !== null && 'v' in value ? value.v : undefined;

/** The text of the line before, where this one says that it was torn off. */
function tornBefore(next: string | undefined): string | undefined {
  try {
    const entry = DayBookEntrySchema.safeParse(JSON.parse(next ?? ''));
    return entry.success && entry.data.kind === 'torn' ? entry.data.text : undefined;
  } catch {
    return undefined;
  }
}

/** What is wrong with an entry, and at which of its fields. */
export type EntryIssue = SchemaIssue & { readonly path: readonly PropertyKey[] };

/** One entry of any known version as it is now, or what is wrong with it. */
export function readEntry(
  value: unknown,
): { readonly entry: DayBookEntry } | { readonly issues: readonly EntryIssue[] } {
  const now = migrateEntry(value);
  if ('error' in now) return { issues: now.error.issues as EntryIssue[] };
  const parsed = DayBookEntrySchema.safeParse(now.entry);
  return parsed.success ? { entry: parsed.data } : { issues: parsed.error.issues as EntryIssue[] };
}

/**
 * Reads a day book: JSON Lines, one entry a line, appended and never changed. A last line without its end that
 * cannot be read was torn off and is set aside with a warning; any other line that cannot be read is refused
 * by its number, as is an entry of a later version. Entries of earlier versions come as they are now.
 * Blank lines mean nothing.
 */
export function readDayBook(text: string, file = 'day-book.jsonl'): Outcome<DayBook> {
  const lines = text.split('\n');
  const ended = lines.at(-1) === '';
  const entries: DayBookEntry[] = [];
  const problems: Diagnostic[] = [];
  let torn: string | null = null;
  lines.forEach((raw, i) => {
    const line = raw.replace(/\r$/, '');
    if (line.trim() === '') return;
    const locus = { file, line: i + 1 };
    let value: unknown;
    try {
      value = JSON.parse(line);
    } catch {
      // Every entry begins so: a line that does not was never one, and its file is no day book.
      if (i === lines.length - 1 && !ended && line.startsWith('{')) torn = line;
      else if (tornBefore(lines[i + 1]) === line) return;
      else problems.push(dayBookLine('this line is not JSON', locus));
      return;
    }
    const version = versionOf(value);
    if (typeof version === 'number' && version > DAY_BOOK_VERSION) {
      problems.push(dayBookNewer(version, DAY_BOOK_VERSION, locus));
      return;
    }
    const read = readEntry(value);
    if ('entry' in read) entries.push(read.entry);
    else
      for (const issue of read.issues.slice(0, 3))
        problems.push(dayBookLine(issueText(issue), { ...locus, path: formatJsonPath(issue.path) }));
  });
  if (problems.length > 0) return fail(...problems);
  return ok(
    { kind: 'day-book', entries, torn },
    torn === null ? [] : [dayBookTorn({ file, line: lines.length })],
  );
}

/**
 * The text to append to a day book for an entry: one line with its end; where the book's text so far was torn off, the
 * torn line is ended and a line that names it comes between, so that the book stays readable.
 * @throws RangeError when the entry does not keep to its schema.
 */
export function dayBookAppendix(entry: DayBookEntry, book: string): string {
  const checked = DayBookEntrySchema.safeParse(entry);
  if (!checked.success)
    throw new RangeError(`dayBookAppendix: ${checked.error.issues[0]?.message ?? 'not an entry'}`);
  const line = `${JSON.stringify(checked.data)}\n`;
  if (book === '' || book.endsWith('\n')) return line;
  // A last line that is whole but lacks its end is only given it.
  const last = book.slice(book.lastIndexOf('\n') + 1);
  const read = readDayBook(last);
  if (!read.ok || read.value.torn === null) return `\n${line}`;
  const mark: DayBookEntry = { v: DAY_BOOK_VERSION, kind: 'torn', when: entry.when, text: last };
  return `\n${JSON.stringify(mark)}\n${line}`;
}
