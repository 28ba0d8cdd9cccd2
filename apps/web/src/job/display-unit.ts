import { turnLengths } from '@haunch/model';

/** The unit in which lengths are shown and typed; what is stored says its own unit. */
export type DisplayUnit = 'mm' | 'inch';

const INCH = 25.4;

/** A length for people: `17.68 mm`, `0.696 in`. `places` are those of millimetres; inches get one and a half more. */
export function formatLength(mm: number, unit: DisplayUnit, places = 2): string {
  return `${figureOf(mm, unit, places)} ${unit === 'mm' ? 'mm' : 'in'}`;
}

/** The same without its unit, for tables that say it once. */
export function figureOf(mm: number, unit: DisplayUnit, places = 2): string {
  const value = unit === 'mm' ? mm : mm / INCH;
  const digits = unit === 'mm' ? places : places + 1;
  const text = value.toFixed(digits);
  return /^-0\.?0*$/.test(text) ? text.slice(1) : text;
}

/** A sentence that was written in millimetres, with its lengths and places in the unit that is shown. */
export const sentenceIn = (sentence: string, unit: DisplayUnit): string =>
  unit === 'mm'
    ? sentence
    : turnLengths(sentence, {
        figure: (mm, decimals) => figureOf(mm, unit, Math.max(2, decimals)),
        unit: 'in',
        place: (x, y) => `(${figureOf(x, unit, 0)}, ${figureOf(y, unit, 0)})`,
      });

/**
 * What was typed into a field of lengths, as the job file has it: a bare number gets the unit that is shown, `17,7` a point.
 * Whether it is a length is for its reader to say.
 */
export function lengthText(typed: string, unit: DisplayUnit): string {
  const text = typed.trim().replace(/^(-?\d+),(\d+)/, '$1.$2');
  return /^-?\d*\.?\d+$/.test(text) ? `${text} ${unit === 'mm' ? 'mm' : 'in'}` : text;
}
