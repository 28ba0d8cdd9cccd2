/** Powers of ten that doubles hold exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));
/** So many digits fit a whole number of 31 bits, so many an exact double, and so many are taken the fast way. */
const SMALL_DIGITS = 9;
const EXACT_DIGITS = 15;
const MOST_DIGITS = EXACT_DIGITS + SMALL_DIGITS;

/**
 * The number that bytes from `from` to `to` spell in ASCII, blanks round it left out; NaN where they spell none.
 * Up to 15 digits over an exact power of ten is rounded once, as a correct conversion is (Clinger, PLDI 1990); up
 * to 24 go through twice the precision; everything longer goes the slow way. −0 comes out as 0.
 */
export function parseNumber(bytes: Uint8Array, from: number, to: number): number {
  let i = from;
  while (i < to && bytes[i]! <= 32) i++;
  const negative = bytes[i] === 45;
  if (negative || bytes[i] === 43) i++;
  // Whole numbers are quicker to gather than doubles, so that digits are taken in three lots.
  let high = 0;
  let low = 0;
  let rest = 0;
  let digits = 0;
  let decimals = -1;
  for (; i < to; i++) {
    const c = bytes[i]! - 48;
    if (c >= 0 && c <= 9) {
      if (digits < SMALL_DIGITS) high = high * 10 + c;
      else if (digits < EXACT_DIGITS) low = low * 10 + c;
      else if (digits < MOST_DIGITS) rest = rest * 10 + c;
      digits++;
      if (decimals >= 0) decimals++;
    } else if (c === -2 && decimals < 0) decimals = 0;
    else break;
  }
  while (i < to && bytes[i]! <= 32) i++;
  if (i < to || digits > MOST_DIGITS || decimals > 22 || digits === 0) return parseLong(bytes, from, to);
  if (digits > EXACT_DIGITS) {
    const long = quotient(high * 1e6 + low, digits - EXACT_DIGITS, rest, Math.max(0, decimals));
    if (Number.isNaN(long)) return parseLong(bytes, from, to);
    return negative ? 0 - long : long;
  }
  const mantissa = digits <= SMALL_DIGITS ? high : high * EXACT_POWERS[digits - SMALL_DIGITS]! + low;
  const value = decimals > 0 ? mantissa / EXACT_POWERS[decimals]! : mantissa;
  return negative ? 0 - value : value;
}

/** Splits a double into two halves whose products are exact (Dekker, Numer. Math. 18, 1971; from memory). */
const SPLIT = 2 ** 27 + 1;
/** The quotient is known to more digits than this, relative to its second half. */
const SURE = 2 ** -40;

/** (a·10ⁿ + b) / 10ᵈ rounded once, for whole a below 10¹⁵ and b below 10ⁿ; NaN where it is too near to a tie. */
function quotient(a: number, n: number, b: number, d: number): number {
  const p = EXACT_POWERS[n]!;
  const product = a * p;
  const low = productError(a, p, product) + b;
  const hi = product + low;
  const lo = low - (hi - product);
  if (d === 0) return hi;
  const q = EXACT_POWERS[d]!;
  const first = hi / q;
  const back = first * q;
  const second = (hi - back - productError(first, q, back) + lo) / q;
  const value = first + second;
  return first + second * (1 + SURE) === value && first + second * (1 - SURE) === value ? value : Number.NaN;
}

/** a·b − product, exactly. */
function productError(a: number, b: number, product: number): number {
  const [ca, cb] = [SPLIT * a, SPLIT * b];
  const [ah, bh] = [ca - (ca - a), cb - (cb - b)];
  const [al, bl] = [a - ah, b - bh];
  return ah * bh - product + ah * bl + al * bh + al * bl;
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
/** Longer texts are no numbers that anyone meant. */
const LONGEST = 400;

function parseLong(bytes: Uint8Array, from: number, to: number): number {
  let [i, stop] = [from, to];
  while (i < stop && bytes[i]! <= 32) i++;
  while (stop > i && bytes[stop - 1]! <= 32) stop--;
  if (stop - i > LONGEST) return Number.NaN;
  let text = '';
  for (let k = i; k < stop; k++) text += String.fromCharCode(bytes[k]!);
  return NUMBER.test(text) ? Number(text) + 0 : Number.NaN;
}
