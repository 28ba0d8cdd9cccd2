import type { DialectMeaning } from '@haunch/model';
import { type NcReading, readProgram } from '@haunch/nc/read';

/** Meanings that are tried where a text does not read in the report's language, by what to give as `--dialect`. */
const OTHERS: readonly (readonly [string, DialectMeaning])[] = [
  ['iso6983', { units: 'G70 G71' }],
  ['iso6983,centres=absolute', { units: 'G70 G71', centres: 'absolute' }],
  ['iso6983,unitCodes=G20 G21,centres=absolute', { centres: 'absolute' }],
];

const errorsOf = (r: NcReading): number => r.diagnostics.filter((d) => d.level === 'error').length;

/** So much of a long text tells its dialect, in characters. */
const ENOUGH = 200_000;

/**
 * The dialect in which a text reads without error that has errors in the report's language; null where it reads in none
 * of those known, or in the report's. Only its beginning is tried.
 */
export function likelyDialect(text: string): string | null {
  const end = text.length <= ENOUGH ? text.length : text.lastIndexOf('\n', ENOUGH) + 1;
  const start = text.slice(0, end === 0 ? ENOUGH : end);
  if (errorsOf(readProgram(start, {})) === 0) return null;
  return OTHERS.find(([, meaning]) => errorsOf(readProgram(start, { meaning })) === 0)?.[0] ?? null;
}
