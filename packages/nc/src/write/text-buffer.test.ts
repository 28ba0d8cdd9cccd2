import fc from 'fast-check';
import { expect, it } from 'vitest';
import { textBuffer } from './text-buffer.js';

const spelt = (steps: number, decimals: number, form = { pointAlways: false, leadingZero: true }): string => {
  const out = textBuffer();
  out.text('X');
  out.steps(steps, decimals, form);
  return out.from(1);
};

it('spells a whole number of steps as the language spells the decimal, however great', () =>
  fc.assert(
    fc.property(fc.maxSafeInteger(), fc.nat({ max: 9 }), (steps, decimals) => {
      // The language's own exact arithmetic, without any division of floating point numbers.
      const digits = String(Math.abs(steps)).padStart(decimals + 1, '0');
      const fraction = digits.slice(digits.length - decimals, digits.length).replace(/0+$/, '');
      const whole = digits.slice(0, digits.length - decimals);
      expect(spelt(steps, decimals)).toBe(
        `${steps < 0 ? '-' : ''}${whole}${decimals > 0 && fraction !== '' ? `.${fraction}` : ''}`,
      );
    }),
  ));

it.each([
  [0, 3, '0', '0.', '0'],
  [-0, 0, '0', '0.', '0'],
  [500, 3, '0.5', '0.5', '.5'],
  [-250, 3, '-0.25', '-0.25', '-.25'],
  [12_000, 3, '12', '12.', '12'],
  [-10_001, 4, '-1.0001', '-1.0001', '-1.0001'],
  [999_999_999, 3, '999999.999', '999999.999', '999999.999'],
  [1_000_000_001, 9, '1.000000001', '1.000000001', '1.000000001'],
])('%d steps at %i decimals: %s, with a point always %s, without a zero before it %s', (s, d, a, b, c) => {
  expect(spelt(s, d)).toBe(a);
  expect(spelt(s, d, { pointAlways: true, leadingZero: true })).toBe(b);
  expect(spelt(s, d, { pointAlways: false, leadingZero: false })).toBe(c);
});

it('gives back any text, longer than one piece, and forgets what is cut', () => {
  const out = textBuffer();
  const long = 'ab°\u{1F4D0}c'.repeat(5000);
  out.text('head');
  const at = out.length();
  out.text(long);
  expect(out.from(at)).toBe(long);
  out.cut(at);
  out.code(33);
  expect(out.from(0)).toBe('head!');
});

it('refuses what is no whole number', () => {
  for (const v of [0.5, Number.NaN, Infinity, 2 ** 53]) expect(() => spelt(v, 3)).toThrow(RangeError);
});
