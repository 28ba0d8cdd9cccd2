import { snap } from '@haunch/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { bulgeText, coordinateText } from './number-text.js';

it('writes coordinates that re-read to the same number, without an exponent', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e7, max: 1e7, noNaN: true }), (v) => {
      const text = coordinateText(v);
      expect(text).toMatch(/^-?\d+\.\d+$/);
      expect(Number(text)).toBe(snap(v));
    }),
  );
});

it('writes bulges to 12 significant digits, without an exponent', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), (v) => {
      const text = bulgeText(v);
      expect(text).toMatch(/^-?\d+\.\d+$/);
      expect(Math.abs(Number(text) - v)).toBeLessThanOrEqual(Math.abs(v) * 5.1e-12);
      expect(bulgeText(Number(text))).toBe(text);
    }),
  );
});

it('shows it', () => {
  expect([0, -0, 18, 0.0001, -12.5].map(coordinateText)).toEqual(['0.0', '0.0', '18.0', '0.0001', '-12.5']);
  expect([1e-9, Math.SQRT2 - 1, -1].map(bulgeText)).toEqual(['0.000000001', '0.414213562373', '-1.0']);
  expect(() => coordinateText(Number.NaN)).toThrow(RangeError);
  expect(() => bulgeText(Infinity)).toThrow(RangeError);
});
