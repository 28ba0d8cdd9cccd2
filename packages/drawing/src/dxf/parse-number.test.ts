import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parseNumber } from './parse-number.js';

const parse = (text: string): number => {
  const bytes = new TextEncoder().encode(`12${text}34`);
  return parseNumber(bytes, 2, bytes.length - 2);
};

it('reads every finite double that a program writes as the language does', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (v) => {
      expect(parse(String(v))).toBe(v + 0);
      if (Math.abs(v) < 1e15) expect(parse(v.toFixed(6))).toBe(Number(v.toFixed(6)) + 0);
    }),
    { numRuns: 2000 },
  );
});

it('rounds numbers of 16 to 24 digits once, as the language does', () => {
  const digits = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 16, maxLength: 24 });
  fc.assert(
    fc.property(digits, fc.nat(22), (all, decimals) => {
      const text = all.join('').padStart(decimals + 1, '0');
      const split = text.length - decimals;
      const written = `-${text.slice(0, split)}.${text.slice(split)}`;
      expect(parse(written)).toBe(Number(written) + 0);
    }),
    { numRuns: 20_000, seed: 3 },
  );
});

// Half way between two doubles: 2^53 + 1 and its neighbours, and a quarter step beyond 1 (computed with whole numbers).
it.each([
  '9007199254740993',
  '9007199254740993.0',
  '9007199254740992.999999',
  '9007199254740993.000001',
  '1.00000000000000011102',
  '1.000000000000000111022',
])('rounds %s as the language does', (text) => expect(parse(text)).toBe(Number(text)));

it.each(['0.1', ' 1. ', '.5', '+3', '-.25e2', '1E-3', '0000000000000000001', '123456789012345678', '1e400'])(
  'reads %s',
  (text) => expect(parse(text)).toBe(Number(text)),
);

it.each(['', ' ', '.', '-', '1e', '1e+', '0x10', 'NaN', 'Infinity', '1,5', '1 2', '1.2.3', '--1', '1e5x'])(
  'finds no number in %j',
  (text) => expect(parse(text)).toBeNaN(),
);
