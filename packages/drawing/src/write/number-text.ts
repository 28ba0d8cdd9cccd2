import { snap } from '@haunch/geometry';

/** Decimals without an exponent and without trailing zeros, but always with a decimal point. */
function plain(text: string): string {
  const m = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(text)!;
  const [, sign, whole = '0', fraction = '', exponent = '0'] = m;
  const shift = Number(exponent);
  const digits = whole + fraction;
  const point = whole.length + shift;
  const padded = point <= 0 ? '0'.repeat(1 - point) + digits : digits.padEnd(point, '0');
  const at = Math.max(point, 1);
  const decimals = padded.slice(at).replace(/0+$/, '');
  return `${sign}${padded.slice(0, at)}.${decimals === '' ? '0' : decimals}`;
}

/**
 * A coordinate or length as it is written: on the 0.0001 mm grid, so that it re-reads to the same number.
 * @throws RangeError when it is not finite.
 */
export const coordinateText = (v: number): string => plain(String(snap(v)));

/**
 * A bulge as it is written: 12 significant digits.
 * @throws RangeError when it is not finite.
 */
export function bulgeText(v: number): string {
  if (!Number.isFinite(v)) throw new RangeError(`bulgeText: ${v} is not finite`);
  return plain(String(Number(v.toPrecision(12)) + 0));
}
