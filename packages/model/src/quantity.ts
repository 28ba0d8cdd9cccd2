/** Millimetres in an inch, by definition. */
export const INCH = 25.4;

/**
 * Reads a length as people write it: `18`, `"18.2 mm"`, `"0.731 in"`, `"23/32\""`, `"1 1/2 in"`.
 * A bare number is millimetres. Answers in millimetres, or with the reason it cannot.
 */
export function readLength(text: string | number): number | { readonly problem: string } {
  if (typeof text === 'number') return Number.isFinite(text) ? text : { problem: `${text} is not a length` };
  const m =
    /^\s*([+-]?)\s*(?:(\d+)\s+)?(\d+(?:\.\d*)?|\.\d+)(?:\s*\/\s*(\d+))?\s*(mm|cm|m|in|inch|inches|"|″)?\s*$/i.exec(
      text,
    );
  if (!m) return { problem: `'${text}' is not a length such as 18.2 mm, 0.731 in or 23/32"` };
  const [, sign, whole, number, divisor, unit = 'mm'] = m;
  if (whole !== undefined && divisor === undefined)
    return { problem: `'${text}' holds two numbers; write a fraction as 1 1/2 in` };
  if (divisor !== undefined && Number(divisor) === 0) return { problem: `'${text}' divides by zero` };
  const value = (Number(whole ?? 0) + Number(number) / Number(divisor ?? 1)) * (sign === '-' ? -1 : 1);
  const factor = { mm: 1, cm: 10, m: 1000 }[unit.toLowerCase()] ?? INCH;
  // A fraction of an inch is exact in tenths of a nanometre; what lies below is the noise of the arithmetic.
  return Math.round(value * factor * 1e9) / 1e9;
}
