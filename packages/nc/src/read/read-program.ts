import type { DialectMeaning, Place } from '@haunch/model';
import { type Cursor, lineLocus } from './cursor.js';
import { blockDelete, noEnd, percentNotClosed, strayPercent } from './diagnostics.js';
import { executeLine } from './execute-line.js';
import { placeSystems } from './frames.js';
import { type MoveSink, newMachine } from './machine-state.js';
import type { NcMove, NcReading } from './nc-reading.js';
import { add, addOnce, closeReport, newReport } from './report.js';
import { lineWords, scanLine } from './scan-line.js';

/** What a reading may be told beside the text. */
export interface ReadProgramOptions {
  /** Name of the file, for diagnostics. */
  readonly file?: string;
  /** Lengths of the tool table by slot, mm, for G43; without them Z is unknown after G43 until it is stated anew. */
  readonly toolLengths?: ReadonlyMap<number, number>;
  /**
   * Where the zeros of work offsets lie (G54 … G59 by number; mm), so that a program may go from one to another; all
   * places of the reading are then in the frame in which these are given. Without a code a program counts in G54.
   */
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

/** All of a reading but its moves. */
export type NcSummary = Omit<NcReading, 'moves'>;

/** A reader that is fed a text piece by piece. */
export interface ProgramReader {
  /** Takes the next piece; lines may be cut anywhere. False once the program has ended and nothing more counts. */
  read(piece: string): boolean;
  /** Says that the text is over, and closes the reading. To be called once. */
  end(): NcSummary;
}

interface Reading {
  /** Reads one line, without its end. False once nothing more counts. */
  line(text: string, from: number, to: number): boolean;
  close(): NcSummary;
}

function openReading(options: ReadProgramOptions, moves: MoveSink): Reading {
  const report = newReport(options.file);
  const s = newMachine(report, options.toolLengths ?? new Map(), moves);
  s.absoluteCentres = options.meaning?.centres === 'absolute';
  s.dwellUnit = options.meaning?.dwell === 'milliseconds' ? 0.001 : 1;
  if (options.origins) placeSystems(s, options.origins);
  const w = lineWords();
  const c: Cursor = {
    text: '',
    file: options.file,
    parameters: s.parameters,
    at: 0,
    end: 0,
    line: 0,
    fault: null,
    foreignUnits: options.meaning?.units === 'G70 G71',
    implied: options.meaning?.implied,
  };
  let blocks = 0;
  let end: NcReading['end'] = 'none';
  let percent: 'unknown' | 'none' | 'open' | 'closed' = 'unknown';
  return {
    line(text, from, to) {
      const stop = to > from && text.charCodeAt(to - 1) === 13 ? to - 1 : to;
      c.text = text;
      c.line++;
      c.at = from;
      c.end = stop;
      if (percent === 'unknown') {
        if (isBlank(text, from, stop)) return true;
        if (isPercent(text, from, stop)) {
          percent = 'open';
          return true;
        }
        percent = 'none';
      } else if (stop - from < 256 && isPercent(text, from, stop)) {
        if (percent === 'open') {
          percent = 'closed';
          if (end === 'none') end = 'percent';
          return false;
        }
        add(report, strayPercent(lineLocus(options.file, c.line)));
        return true;
      }
      // After M2 or M30 nothing counts but the closing percent sign of an opened file.
      if (end !== 'none') return true;
      if (!scanLine(c, w)) {
        add(report, c.fault!);
        blocks++;
        return true;
      }
      if (w.has || w.gGroups || w.mGroups || w.settings.length > 0) blocks++;
      else return true;
      s.line = c.line;
      if (w.deleted) addOnce(report, blockDelete(lineLocus(options.file, c.line)));
      const ended = executeLine(s, w);
      for (let i = 0; i < w.settings.length; i += 2) s.parameters[w.settings[i]!] = w.settings[i + 1]!;
      if (!ended) return true;
      end = ended;
      return percent !== 'none';
    },
    close() {
      const last = lineLocus(options.file, Math.max(1, c.line));
      if (percent === 'open') add(report, percentNotClosed(last));
      else if (end === 'none') add(report, noEnd(last));
      return {
        diagnostics: closeReport(report, Math.max(1, c.line)),
        blocks,
        end,
        unitSeen: s.unitSeen,
        system: s.system,
        zeros: s.zeros,
      };
    },
  };
}

/** Reads the whole lines of a text. False once nothing more counts. */
function readLines(reading: Reading, text: string, from: number, to: number): boolean {
  for (let at = from; at < to; ) {
    const newline = text.indexOf('\n', at);
    const stop = newline < 0 || newline > to ? to : newline;
    if (!reading.line(text, at, stop)) return false;
    at = stop + 1;
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
  const moves: NcMove[] = [];
  const reading = openReading(options, moves);
  readLines(reading, text, 0, text.length);
  return { moves, ...reading.close() };
}

/**
 * The same for a text that comes in pieces: every move is handed to `onMove` as soon as its line is read, and neither
 * text nor moves are kept, so that a program of any length takes the same memory. What comes out does not depend on
 * where the pieces are cut. `onMove` may throw; the reader is then not to be used further.
 */
export function programReader(
  onMove: (move: NcMove) => void,
  options: ReadProgramOptions = {},
): ProgramReader {
  const reading = openReading(options, { push: onMove });
  let started: string[] = [];
  let more = true;
  return {
    read(piece) {
      if (!more) return false;
      const last = piece.lastIndexOf('\n');
      if (last < 0) {
        if (piece !== '') started.push(piece);
        return true;
      }
      let from = 0;
      if (started.length > 0) {
        const first = piece.indexOf('\n');
        const line = started.join('') + piece.slice(0, first);
        started = [];
        more = reading.line(line, 0, line.length);
        from = first + 1;
      }
      more &&= readLines(reading, piece, from, last + 1);
      if (more && last + 1 < piece.length) started.push(piece.slice(last + 1));
      return more;
    },
    end() {
      const line = started.join('');
      started = [];
      if (more && line !== '') reading.line(line, 0, line.length);
      more = false;
      return reading.close();
    },
  };
}
