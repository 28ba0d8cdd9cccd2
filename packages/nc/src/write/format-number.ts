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

/** A whole number of steps of 10^−decimals as the shortest decimal. */
export function formatSteps(steps: number, decimals: number): string {
  if (!Number.isSafeInteger(steps)) throw new RangeError(`formatSteps: ${steps} is no whole number of steps`);
  const digits = String(Math.abs(steps)).padStart(decimals + 1, '0');
  const whole = digits.slice(0, digits.length - decimals);
  let end = digits.length;
  while (end > whole.length && digits.charCodeAt(end - 1) === 48) end--;
  const fraction = digits.slice(whole.length, end);
  return `${steps < 0 ? '-' : ''}${whole}${fraction === '' ? '' : `.${fraction}`}`;
}
