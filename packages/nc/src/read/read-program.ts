import type { DialectMeaning, Place } from '@haunch/model';
import { type Cursor, lineLocus } from './cursor.js';
import { blockDelete, noEnd, percentNotClosed, strayPercent } from './diagnostics.js';
import { executeLine } from './execute-line.js';
import { newMachine } from './machine-state.js';
import type { NcReading } from './nc-reading.js';
import { add, addOnce, closeReport, newReport } from './report.js';
import { lineWords, scanLine } from './scan-line.js';

/** What a reading may be told beside the text. */
export interface ReadProgramOptions {
  /** Name of the file, for diagnostics. */
  readonly file?: string;
  /** Lengths of the tool table by slot, mm, for G43; without them Z is unknown after G43 until it is stated anew. */
  readonly toolLengths?: ReadonlyMap<number, number>;
  /** Where the zeros of work offsets lie (54 … 59, mm, all in one frame), so that a program may go from one to another. */
  readonly origins?: ReadonlyMap<number, Place>;
  /** What words mean where the dialect differs from the report's language. */
  readonly meaning?: DialectMeaning;
}

/** Whether a line is only a percent sign. */
function isPercent(text: string, from: number, to: number): boolean {
  let seen = false;
  for (let i = from; i < to; i++) {
    const code = text.charCodeAt(i);
    if (code === 37 && !seen) seen = true;
    else if (code !== 32 && code !== 9) return false;
  }
  return seen;
}

/** Whether a line has nothing but blanks. */
function isBlank(text: string, from: number, to: number): boolean {
  for (let i = from; i < to; i++) {
    const code = text.charCodeAt(i);
    if (code !== 32 && code !== 9) return false;
  }
  return true;
}

/**
 * Reads a program text as the RS274/NGC language defines it and says what the machine would do. Coordinates mm in
 * the frame of the first coordinate system in use; feeds mm/min. Never throws, whatever the text; takes time linear
 * in its length. Guaranteed when no diagnostic is an error: every motion of the text is in `moves`, in order, with
 * what of its ends is certain. A line with an error is not carried out (but for arcs, whose stated end is reached).
 * @see NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000), sections 3 and appendix E
 */
export function readProgram(text: string, options: ReadProgramOptions = {}): NcReading {
  const report = newReport(options.file);
  const s = newMachine(report, options.toolLengths ?? new Map());
  s.absoluteCentres = options.meaning?.centres === 'absolute';
  s.dwellUnit = options.meaning?.dwell === 'milliseconds' ? 0.001 : 1;
  for (const [code, { x, y, z }] of options.origins ?? [])
    if (code >= 54 && code <= 59) {
      s.frames.origin[code - 53]!.set([x, y, z]);
      s.frames.originKnown[code - 53] = 7;
    }
  const w = lineWords();
  const c: Cursor = {
    text,
    file: options.file,
    parameters: s.parameters,
    at: 0,
    end: 0,
    line: 0,
    fault: null,
    foreignUnits: options.meaning?.units === 'G70 G71',
  };
  const { length } = text;
  let blocks = 0;
  let end: NcReading['end'] = 'none';
  let percent: 'unknown' | 'none' | 'open' | 'closed' = 'unknown';

  for (let at = 0; at < length; ) {
    const newline = text.indexOf('\n', at);
    const next = newline < 0 ? length : newline + 1;
    let stop = newline < 0 ? length : newline;
    if (stop > at && text.charCodeAt(stop - 1) === 13) stop--;
    c.line++;
    c.at = at;
    c.end = stop;
    at = next;
    if (percent === 'unknown') {
      if (isBlank(text, c.at, stop)) continue;
      if (isPercent(text, c.at, stop)) {
        percent = 'open';
        continue;
      }
      percent = 'none';
    } else if (stop - c.at < 256 && isPercent(text, c.at, stop)) {
      if (percent === 'open') {
        percent = 'closed';
        if (end === 'none') end = 'percent';
        break;
      }
      add(report, strayPercent(lineLocus(options.file, c.line)));
      continue;
    }
    // After M2 or M30 nothing counts but the closing percent sign of an opened file.
    if (end !== 'none') continue;
    if (!scanLine(c, w)) {
      add(report, c.fault!);
      blocks++;
      continue;
    }
    if (w.has || w.gGroups || w.mGroups || w.settings.length > 0) blocks++;
    else continue;
    s.line = c.line;
    if (w.deleted) addOnce(report, blockDelete(lineLocus(options.file, c.line)));
    const ended = executeLine(s, w);
    for (let i = 0; i < w.settings.length; i += 2) s.parameters[w.settings[i]!] = w.settings[i + 1]!;
    if (ended) {
      end = ended;
      if (percent === 'none') break;
    }
  }
  const last = lineLocus(options.file, Math.max(1, c.line));
  if (percent === 'open') add(report, percentNotClosed(last));
  else if (end === 'none') add(report, noEnd(last));
  return {
    moves: s.moves,
    diagnostics: closeReport(report, Math.max(1, c.line)),
    blocks,
    end,
    unitSeen: s.unitSeen,
    system: s.system,
  };
}
