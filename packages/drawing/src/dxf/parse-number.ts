/** Powers of ten that doubles hold exactly. */
const EXACT_POWERS = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

/**
 * The number that bytes from `from` to `to` spell in ASCII, blanks round it left out; NaN where they spell none.
 * Up to 15 digits over an exact power of ten is rounded once, as a correct conversion is (Clinger, PLDI 1990);
 * everything longer goes the slow way. −0 comes out as 0.
 */
export function parseNumber(bytes: Uint8Array, from: number, to: number): number {
  let i = from;
  let stop = to;
  while (i < stop && bytes[i]! <= 32) i++;
  while (stop > i && bytes[stop - 1]! <= 32) stop--;
  const start = i;
  const negative = bytes[i] === 45;
  if (negative || bytes[i] === 43) i++;
  let mantissa = 0;
  let digits = 0;
  let decimals = 0;
  let significant = 0;
  for (let point = false; i < stop; i++) {
    const c = bytes[i]!;
    if (c === 46 && !point) {
      point = true;
      continue;
    }
    if (c < 48 || c > 57) break;
    digits++;
    if (significant > 0 || c !== 48) significant++;
    if (point) decimals++;
    mantissa = mantissa * 10 + (c - 48);
  }
  if (digits === 0) return Number.NaN;
  if (i === stop && significant <= 15 && decimals <= 22) {
    const value = mantissa / EXACT_POWERS[decimals]!;
    return negative ? 0 - value : value;
  }
  if (i < stop && bytes[i] !== 69 && bytes[i] !== 101) return Number.NaN;
  if (i < stop) {
    i++;
    if (bytes[i] === 45 || bytes[i] === 43) i++;
    if (i >= stop) return Number.NaN;
    for (; i < stop; i++) if (bytes[i]! < 48 || bytes[i]! > 57) return Number.NaN;
  }
  let text = '';
  for (let k = start; k < stop; k++) text += String.fromCharCode(bytes[k]!);
  return Number(text) + 0;
}
