import type { Diagnostic, DialectMeaning, Locus } from '@haunch/model';

/**
 * A place in the text while a line is read. The first fault ends the line: whoever meets it sets `fault`, and
 * everyone above sees it and returns. (No exceptions: a text of a million bad lines is read as fast as a good one.)
 */
export interface Cursor {
  text: string;
  readonly file: string | undefined;
  readonly parameters: Float64Array;
  at: number;
  /** End of the line, exclusive. */
  end: number;
  line: number;
  fault: Diagnostic | null;
  /** Unit codes are those of ISO 6983-1. */
  readonly foreignUnits?: boolean;
  /** Coordinates without a point are digits of a format. */
  readonly implied?: DialectMeaning['implied'];
}

/** Where the cursor's line is, as a diagnostic names it. */
export const locusOf = (c: Cursor): Locus => lineLocus(c.file, c.line);

/** A line of the program text, as a diagnostic names it. */
export const lineLocus = (file: string | undefined, line: number): Locus => ({
  ...(file === undefined ? {} : { file }),
  line,
});

/** The next char code that is no blank, without passing it; −1 at the end of the line. */
export function peek(c: Cursor): number {
  const { text, end } = c;
  let at = c.at;
  while (at < end) {
    const code = text.charCodeAt(at);
    if (code !== 32 && code !== 9) {
      c.at = at;
      return code;
    }
    at++;
  }
  c.at = at;
  return -1;
}

/** A char code as a capital letter A–Z (65–90), or −1. */
export const capital = (code: number): number =>
  code >= 65 && code <= 90 ? code : code >= 97 && code <= 122 ? code - 32 : -1;
