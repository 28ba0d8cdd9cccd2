import fc from 'fast-check';
import { expect, it } from 'vitest';
import { formatNumber } from './format-number.js';

it('reads back as the nearest step, in the shortest plain form', () =>
  fc.assert(
    fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.integer({ min: 0, max: 6 }), (v, d) => {
      const text = formatNumber(v, d);
      expect(text).toMatch(/^(?!-0$)-?(0|[1-9]\d*)(\.\d*[1-9])?$/);
      expect(Math.abs(Number(text) - v)).toBeLessThanOrEqual(0.5 * 10 ** -d + Math.abs(v) * 1e-15);
    }),
  ));

it.each([
  [0, 4, '0'],
  [-0, 4, '0'],
  [-0.00004, 4, '0'],
  [0.1 + 0.2, 4, '0.3'],
  [1e-7, 6, '0'],
  [1e-6, 6, '0.000001'],
  [18_000, 0, '18000'],
  [-12.5, 3, '-12.5'],
  [1_000_000, 4, '1000000'],
  [2.675, 2, '2.68'],
  [99.99999, 4, '100'],
])('%d at %i decimals is %s', (v, d, text) => expect(formatNumber(v, d)).toBe(text));

it('refuses what is no number, and decimals that are none', () => {
  expect(() => formatNumber(Number.NaN, 4)).toThrow(RangeError);
  expect(() => formatNumber(Infinity, 4)).toThrow(RangeError);
  expect(() => formatNumber(1e15, 4)).toThrow(RangeError);
  expect(() => formatNumber(1, 1.5)).toThrow(RangeError);
});
