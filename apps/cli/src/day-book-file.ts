import { closeSync, existsSync, fsyncSync, openSync, writeFileSync } from 'node:fs';
import { type DayBook, type DayBookEntry, dayBookAppendix, readDayBook } from '@haunch/gauge';
import { exitCodeOf, say, UsageError } from './exit.js';
import { readInput } from './files.js';

/** A day book that could not be read: its diagnostics were said. */
export class DayBookError extends Error {
  constructor(readonly code: number) {
    super('the day book cannot be read');
  }
}

const textOf = (file: string): string => (existsSync(file) ? new TextDecoder().decode(readInput(file)) : '');

/** Reads a shop's day book; one that is not there yet is empty. @throws DayBookError when a line is spoiled. */
export function openDayBook(file: string): DayBook {
  const book = readDayBook(textOf(file), file);
  say(book.diagnostics);
  if (!book.ok) throw new DayBookError(exitCodeOf(book.diagnostics));
  return book.value;
}

/** The same for a command that only reads: there a book that is not there is a slip in its name. @throws UsageError */
export function openKeptDayBook(file: string): DayBook {
  if (!existsSync(file))
    throw new UsageError(
      `there is no day book ${file}; check its name, or enter something first: haunch book board`,
    );
  return openDayBook(file);
}

/** Appends entries, each a line of its own, and makes sure that they are on the disk. Nothing that is there is changed. */
export function enterInDayBook(file: string, entries: readonly DayBookEntry[]): void {
  openDayBook(file);
  let text = textOf(file);
  const before = text.length;
  for (const entry of entries) text += dayBookAppendix(entry, text);
  try {
    const handle = openSync(file, 'a');
    try {
      // Writes on until all of it is there, where a single write may stop short.
      writeFileSync(handle, text.slice(before));
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
  } catch (e) {
    throw new UsageError(`${file} cannot be written: ${(e as Error).message}`);
  }
}

/** Now, as the day book writes it. */
export const now = (): string => new Date().toISOString();
