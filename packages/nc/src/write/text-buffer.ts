import type { ImpliedPoint } from '@haunch/model';

/** The most characters that one call of `String.fromCharCode` takes. */
const PIECE = 1 << 13;
/** A greater whole number is spelt by the language itself. */
const FAST = 1e9;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
/** The steps of one, by decimals. */
const ONE = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];

/** How numbers are spelt beside the shortest form. */
export interface NumberForm {
  /** A point after a number without decimals: `12.` */
  readonly pointAlways: boolean;
  /** A zero before a point that begins the number: `0.5`, not `.5`. */
  readonly leadingZero: boolean;
  /** All decimals, whatever they are: `12.500`. */
  readonly trailingZeros?: boolean;
  /** Digits alone; the point is left out. */
  readonly implied?: ImpliedPoint | undefined;
}

/** Text that grows at its end, as character codes: a program of a million blocks would be millions of short strings. */
export interface TextBuffer {
  /** Characters written so far. */
  length(): number;
  /** Appends one character by its code (UTF-16). */
  code(c: number): void;
  /** Appends a text. */
  text(text: string): void;
  /**
   * Appends a whole number of steps of 10^−decimals (0 to 9): the shortest decimal in the form asked for.
   * @throws RangeError when it is no safe whole number
   */
  steps(steps: number, decimals: number, form: NumberForm): void;
  /** What stands from a place on. */
  from(start: number): string;
  /** Takes back everything from a place on. */
  cut(start: number): void;
}

/** An empty buffer. */
export function textBuffer(): TextBuffer {
  // An array of small whole numbers becomes a text several times faster than a typed one.
  const codes: number[] = [];
  let length = 0;
  /** Writes the digits of a whole number, at least `least` of them, at a place; gives the place after them. */
  const digits = (place: number, whole: number, least: number): number => {
    if (whole >= FAST) {
      const text = String(whole);
      for (let i = 0; i < text.length; i++) codes[place + i] = text.charCodeAt(i);
      return place + text.length;
    }
    let rest = whole | 0;
    let count = least;
    while (count < 9 && rest >= ONE[count]!) count++;
    const end = place + count;
    // Without holes: the array is longer than what is written, but for its first lines.
    for (let i = codes.length; i < end; i++) codes[i] = ZERO;
    for (let i = end - 1; i >= place; i--) {
      const tens = (rest / 10) | 0;
      codes[i] = ZERO + rest - tens * 10;
      rest = tens;
    }
    return end;
  };
  return {
    length: () => length,
    code(c) {
      codes[length++] = c;
    },
    text(text) {
      for (let i = 0; i < text.length; i++) codes[length++] = text.charCodeAt(i);
    },
    steps(steps, decimals, form) {
      if (!Number.isSafeInteger(steps)) throw new RangeError(`${steps} is no whole number of steps`);
      let place = length;
      if (steps < 0) codes[place++] = MINUS;
      const size = steps < 0 ? -steps : steps;
      if (form.implied) {
        const { whole, zeros } = form.implied;
        place = digits(place, size, zeros === 'leading dropped' ? 1 : whole + decimals);
        // Zero itself keeps its digits: without any there would be no number.
        if (zeros === 'trailing dropped' && size > 0) while (codes[place - 1] === ZERO) place--;
        length = place;
        return;
      }
      const one = ONE[decimals]!;
      const whole = size < FAST ? ((size | 0) / one) | 0 : Math.floor(size / one);
      const fraction = size - whole * one;
      if (whole > 0 || fraction === 0 || form.leadingZero) place = digits(place, whole, 1);
      if (fraction > 0 || (form.trailingZeros && decimals > 0)) {
        codes[place++] = POINT;
        place = digits(place, fraction, decimals);
        if (!form.trailingZeros) while (codes[place - 1] === ZERO) place--;
      } else if (form.pointAlways) codes[place++] = POINT;
      length = place;
    },
    from(start) {
      const pieces: string[] = [];
      for (let i = start; i < length; i += PIECE)
        pieces.push(String.fromCharCode.apply(null, codes.slice(i, Math.min(length, i + PIECE))));
      return pieces.join('');
    },
    cut(start) {
      length = start;
    },
  };
}
