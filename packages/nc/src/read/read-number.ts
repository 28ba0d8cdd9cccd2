import { type Cursor, locusOf, peek } from './cursor.js';
import { badValue } from './diagnostics.js';

const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);

/**
 * A number of the language (N3.2): optional sign, digits with at most one point, no exponent; blanks may stand
 * anywhere in it. Correctly rounded: digits up to 2⁵³ and 22 decimals are one exact division, longer ones go through the
 * engine's own parser.
 */
export function readNumber(c: Cursor): number {
  const { text, end } = c;
  const start = c.at;
  let at = start;
  let negative = false;
  let code = text.charCodeAt(at);
  if (code === 45 || code === 43) {
    negative = code === 45;
    at++;
  }
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < end; at++) {
    code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + (code - 48);
      digits++;
      if (decimals >= 0) decimals++;
    } else if (code === 46) {
      if (decimals >= 0) break;
      decimals = 0;
    } else if (code !== 32 && code !== 9) break;
  }
  c.at = at;
  if (digits === 0) {
    const next = peek(c);
    c.fault ??= badValue(
      locusOf(c),
      'A number has no digit',
      next < 0 ? 'the line ends there' : `it is followed by ${JSON.stringify(text[c.at])}`,
    );
    return Number.NaN;
  }
  let value: number;
  if (mantissa < 9007199254740992 && decimals <= 22)
    value = decimals > 0 ? mantissa / POWERS[decimals]! : mantissa;
  else value = Math.abs(Number(text.slice(start, at).replace(/[ \t]/g, '')));
  return negative ? -value : value;
}
