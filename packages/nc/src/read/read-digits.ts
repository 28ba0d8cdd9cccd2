import type { DialectMeaning } from '@haunch/model';
import { type Cursor, locusOf, peek } from './cursor.js';
import { badValue } from './diagnostics.js';
import { readValue } from './read-value.js';

type Format = NonNullable<DialectMeaning['implied']>;

/**
 * A coordinate in digits without a point, as formats of punched tape have them; one with a point, or an expression, means
 * what it says. More digits than the format has are a fault, since they would be read as another length.
 */
export function readDigits(c: Cursor, { whole, decimals, zeros }: Format, what: string): number {
  peek(c);
  const [, sign, digits, blanks] = /^([+-]?)(\d+)([ \t]*)/.exec(c.text.slice(c.at, c.end)) ?? [];
  if (digits === undefined || c.text.charCodeAt(c.at + sign!.length + digits.length + blanks!.length) === 46)
    return readValue(c, what);
  c.at += sign!.length + digits.length;
  const room = whole + decimals;
  if (digits.length > room || (zeros === 'all' && digits.length < room)) {
    c.fault = badValue(
      locusOf(c),
      what,
      `it has ${digits.length} digits, and the format has ${room}: ${whole} before the point and ${decimals} after it`,
    );
    return Number.NaN;
  }
  const steps = Number(zeros === 'trailing dropped' ? digits.padEnd(room, '0') : digits);
  const value = steps / 10 ** decimals;
  return sign === '-' ? -value : value;
}
