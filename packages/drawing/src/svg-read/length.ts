import { LARGEST, numberAt } from './numbers.js';

/** Millimetres in an inch and CSS pixels in an inch (CSS Values 3, 6.2). */
export const INCH = 25.4;
export const PIXELS = 96;

/** CSS pixels in each absolute unit (CSS Values 3, 6.2: 1in = 2.54cm = 96px = 72pt = 6pc). */
const IN_PIXELS: ReadonlyMap<string, number> = new Map([
  ['', 1],
  ['px', 1],
  ['in', PIXELS],
  ['mm', PIXELS / INCH],
  ['cm', (10 * PIXELS) / INCH],
  ['q', PIXELS / INCH / 4],
  ['pt', PIXELS / 72],
  ['pc', PIXELS / 6],
]);

/** A length as the file writes it. */
export interface Length {
  readonly value: number;
  /** Lower case; empty for a bare number. */
  readonly unit: string;
}

/** Reads a number with or without a unit; null where it is something else, or beyond 1e9. */
export function readLength(text: string): Length | null {
  const word = text.trim();
  const n = numberAt(word, 0);
  if (n === null || !(Math.abs(n.value) <= LARGEST)) return null;
  const unit = word.slice(n.end).toLowerCase();
  return /^(?:|%|[a-z]+)$/.test(unit) ? { value: n.value, unit } : null;
}

/** Whether a unit is one of length that does not depend on a screen. */
export const isPhysical = (unit: string): boolean => IN_PIXELS.has(unit) && unit !== '' && unit !== 'px';

/** A length in millimetres where its unit is physical, else null. */
export const inMillimetres = (l: Length): number | null =>
  isPhysical(l.unit) ? (l.value * IN_PIXELS.get(l.unit)! * INCH) / PIXELS : null;

/**
 * A length in user units: absolute units by CSS pixels, a percentage of `whole`, em and ex of `font`. Null for
 * an unknown unit.
 */
export function inUserUnits(l: Length, whole: number, font: number): number | null {
  const pixels = IN_PIXELS.get(l.unit);
  if (pixels !== undefined) return l.value * pixels;
  if (l.unit === '%') return (l.value / 100) * whole;
  if (l.unit === 'em') return l.value * font;
  // The height of an x is half an em where the font is not known (CSS Values 3, 6.1.1).
  return l.unit === 'ex' ? (l.value * font) / 2 : null;
}
