import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import { doesNotRead, nothingMoves, notText, tooManyBlocks } from './diagnostics.js';

/** So many lines are proved at once; ours: what a proof holds in memory grows with them. */
const MOST_LINES = 1_000_000;
/** So many errors of a text that is no program are shown. */
const SHOWN = 8;

/**
 * A program's file as text. Fails with the place where it is no text at all, as a binary file, and with their number where
 * it has more lines than are proved at once. UTF-8, or UTF-16 with its mark.
 */
export function programFile(
  content: Uint8Array,
  file: string,
): Outcome<{ readonly text: string; readonly file: string }> {
  const wide = (content[0] === 0xff && content[1] === 0xfe) || (content[0] === 0xfe && content[1] === 0xff);
  let lines = 1;
  for (let i = 0; i < content.length; i++) {
    const byte = content[i]!;
    if (byte === 10) lines++;
    else if (byte === 0 && !wide) return fail(notText(file, lines, i));
  }
  if (lines > MOST_LINES) return fail(tooManyBlocks(file, lines, MOST_LINES));
  const coding = !wide ? 'utf-8' : content[0] === 0xff ? 'utf-16le' : 'utf-16be';
  return ok({ text: new TextDecoder(coding).decode(content), file });
}

/** Whether a reading moves the cutter at all. */
const moves = (reading: NcReading): boolean =>
  reading.moves.some((m) => m.kind === 'linear' || m.kind === 'arc' || m.kind === 'rapid');

/**
 * What keeps a text from being a program that can be proved: its first errors, and how many there are in all. Empty
 * where it reads.
 */
export function readingProblems(reading: NcReading, file: string): Diagnostic[] {
  const errors = reading.diagnostics.filter((d) => d.level === 'error');
  if (errors.length === 0) return moves(reading) ? [] : [nothingMoves(file)];
  const lines = new Set(errors.map((d) => d.locus.line)).size;
  const more = reading.diagnostics.filter((d) => d.code === 'nc/more');
  return [
    ...errors.slice(0, SHOWN),
    ...more,
    doesNotRead(file, { errors: errors.length, lines, more: more.length > 0, first: errors[0]!.locus.line }),
  ];
}
