import { textBuffer } from './text-buffer.js';

const SHORTEST = { pointAlways: false, leadingZero: true };

/**
 * A number as a program word writes it: rounded to `decimals`, then the shortest decimal, without exponent, without
 * trailing zeros, and never −0. Rounding is to the nearest step, halves upward.
 * @throws RangeError when the value is not finite, has more than 2⁵³ steps, or `decimals` is not a whole number 0–9.
 */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 9)
    throw new RangeError(`formatNumber: ${decimals} decimals; a whole number from 0 to 9 is wanted`);
  return formatSteps(Math.round(value * 10 ** decimals), decimals);
}

/**
 * A whole number of steps of 10^−decimals as the shortest decimal.
 * @throws RangeError when it is no safe whole number
 */
export function formatSteps(steps: number, decimals: number): string {
  const out = textBuffer();
  out.steps(steps, decimals, SHORTEST);
  return out.from(0);
}
