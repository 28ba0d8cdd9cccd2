import { bits, G_GROUP, gName, M_GROUP } from './codes.js';
import { type Cursor, capital, locusOf, peek } from './cursor.js';
import {
  badCharacter,
  badLineNumber,
  badValue,
  codeConflict,
  commentNested,
  commentNotClosed,
  lineTooLong,
  notWhole,
  outOfRange,
  repeatedWord,
  reservedParameter,
  rotaryWord,
  unknownCode,
  unknownWord,
} from './diagnostics.js';
import { readDigits } from './read-digits.js';
import { readNumber } from './read-number.js';
import { readParameterIndex, readValue } from './read-value.js';

/** The words of one line, refilled for every line. Masks have one bit a letter (A = bit 0) or a modal group. */
export interface LineWords {
  deleted: boolean;
  /** Letters present, G, M and N apart. */
  has: number;
  readonly value: Float64Array;
  /** G codes by modal group, in tenths; valid where `gGroups` has the group's bit. */
  gGroups: number;
  readonly g: Int32Array;
  /** M codes by modal group; valid where `mGroups` has the group's bit. */
  mGroups: number;
  readonly m: Int32Array;
  mCount: number;
  /** Parameter settings, carried out after the whole line has been read: index, value, index, value … */
  readonly settings: number[];
}

export const lineWords = (): LineWords => ({
  deleted: false,
  has: 0,
  value: new Float64Array(26),
  gGroups: 0,
  g: new Int32Array(16),
  mGroups: 0,
  m: new Int32Array(16),
  mCount: 0,
  settings: [],
});

const COORDINATES = bits('XYZIJKR');
const LIMIT = 1e9;
/** What each letter A–Z may be: 1 a word, 2 a rotary axis, 0 nothing. E, N, O, U, V, W begin no word. */
const LETTERS = Uint8Array.from('ABCDEFGHIJKLMNOPQRSTUVWXYZ', (l) =>
  'ABC'.includes(l) ? 2 : 'DFGHIJKLMPQRSTXYZ'.includes(l) ? 1 : 0,
);

/** Reads the line at the cursor into `w` (N1–N7); false when `c.fault` says why not. */
export function scanLine(c: Cursor, w: LineWords): boolean {
  w.deleted = false;
  w.has = 0;
  w.gGroups = 0;
  w.mGroups = 0;
  w.mCount = 0;
  w.settings.length = 0;
  c.fault = null;
  if (c.end - c.at > 256) c.fault = lineTooLong(locusOf(c), c.end - c.at);
  let code = peek(c);
  if (code === 47) {
    w.deleted = true;
    c.at++;
    code = peek(c);
  }
  if (code === 78 || code === 110) readLineNumber(c);
  while (!c.fault) {
    code = peek(c);
    if (code < 0) return true;
    const letter = capital(code);
    if (letter >= 0) {
      c.at++;
      readWord(c, w, letter - 65);
    } else if (code === 40) readComment(c);
    else if (code === 35) readSetting(c, w);
    else c.fault = badCharacter(locusOf(c), String.fromCodePoint(c.text.codePointAt(c.at)!));
  }
  return false;
}

function readLineNumber(c: Cursor): void {
  c.at++;
  let digits = 0;
  for (let code = peek(c); code >= 48 && code <= 57; code = peek(c)) {
    digits++;
    c.at++;
  }
  if (digits === 0) c.fault ??= badLineNumber(locusOf(c), 'has no digits');
  else if (digits > 5) c.fault ??= badLineNumber(locusOf(c), `has ${digits} digits`);
  else if (peek(c) === 46) c.fault ??= badLineNumber(locusOf(c), 'has a decimal point');
}

function readComment(c: Cursor): void {
  for (c.at++; c.at < c.end; c.at++) {
    const code = c.text.charCodeAt(c.at);
    if (code === 41) {
      c.at++;
      return;
    }
    if (code === 40) {
      c.fault = commentNested(locusOf(c));
      return;
    }
  }
  c.fault = commentNotClosed(locusOf(c));
}

function readSetting(c: Cursor, w: LineWords): void {
  const index = readParameterIndex(c);
  if (c.fault) return;
  if (peek(c) !== 61) {
    c.fault = badValue(locusOf(c), `Parameter #${index}`, 'a = is missing');
    return;
  }
  c.at++;
  const value = readValue(c, `Parameter #${index}`);
  if (c.fault) return;
  if (index >= 5161 && index <= 5390) c.fault = reservedParameter(locusOf(c), index);
  else w.settings.push(index, value);
}

function readWord(c: Cursor, w: LineWords, letter: number): void {
  const kind = LETTERS[letter]!;
  if (kind !== 1) {
    const name = String.fromCharCode(letter + 65);
    c.fault =
      name === 'N'
        ? badLineNumber(locusOf(c), 'does not stand first on the line')
        : (kind === 2 ? rotaryWord : unknownWord)(locusOf(c), name);
    return;
  }
  // Most values are plain numbers right after their letter; the general way is kept off that path.
  const code = c.at < c.end ? c.text.charCodeAt(c.at) : -1;
  const value =
    c.implied !== undefined && COORDINATES & (1 << letter)
      ? readDigits(c, c.implied, `Word ${String.fromCharCode(letter + 65)}`)
      : (code >= 48 && code <= 57) || code === 45
        ? readNumber(c)
        : readValue(c, `Word ${String.fromCharCode(letter + 65)}`);
  if (c.fault) return;
  if (letter === 6) addG(c, w, value);
  else if (letter === 12) addM(c, w, value);
  else if (w.has & (1 << letter)) c.fault = repeatedWord(locusOf(c), String.fromCharCode(letter + 65));
  else if (value > LIMIT || value < -LIMIT)
    c.fault = outOfRange(locusOf(c), String.fromCharCode(letter + 65), value, 'no machine goes that far');
  else {
    w.has |= 1 << letter;
    w.value[letter] = value;
  }
}

/** In ISO 6983-1 G70 is inches and G71 millimetres; G20 and G21 are not assigned. As ten times the code of the report. */
const unitCode = (tenths: number): number =>
  tenths === 700 ? 200 : tenths === 710 ? 210 : tenths === 200 || tenths === 210 ? -1 : tenths;

function addG(c: Cursor, w: LineWords, value: number): void {
  const written = Math.round(value * 10);
  const tenths = c.foreignUnits ? unitCode(written) : written;
  const group = tenths >= 0 && tenths < 1000 ? G_GROUP[tenths]! : -1;
  // A code may be off by 0.0001 (N3.3).
  if (group < 0 || Math.abs(value * 10 - written) > 0.00101) c.fault = unknownCode(locusOf(c), `G${value}`);
  else if (w.gGroups & (1 << group))
    c.fault = codeConflict(
      locusOf(c),
      `${gName(w.g[group]!)} and ${gName(tenths)} are of one modal group and stand`,
    );
  else {
    w.gGroups |= 1 << group;
    w.g[group] = tenths;
  }
}

function addM(c: Cursor, w: LineWords, value: number): void {
  const whole = Math.round(value);
  if (Math.abs(value - whole) > 0.0001) {
    c.fault = notWhole(locusOf(c), 'M', value);
    return;
  }
  const group = whole >= 0 && whole < 100 ? M_GROUP[whole]! : -1;
  if (group < 0) c.fault = unknownCode(locusOf(c), `M${whole}`);
  else if (w.mGroups & (1 << group))
    c.fault = codeConflict(locusOf(c), `M${w.m[group]} and M${whole} are of one modal group and stand`);
  else if (++w.mCount > 4) c.fault = codeConflict(locusOf(c), 'More than four M codes stand');
  else {
    w.mGroups |= 1 << group;
    w.m[group] = whole;
  }
}
