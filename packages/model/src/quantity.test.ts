import { expect, it } from 'vitest';
import { readLength } from './quantity.js';

it.each([
  ['18.2 mm', 18.2],
  ['18', 18],
  [18, 18],
  ['0.731 in', 18.5674],
  ['23/32"', 18.25625],
  ['23/32 in', 18.25625],
  ['1 1/2 in', 38.1],
  ['-0.05mm', -0.05],
  ['.5 inch', 12.7],
  ['2.44 m', 2440],
])('reads %j as %d mm', (text, mm) => expect(readLength(text)).toBe(mm));

it.each(['', 'mm', '18,2 mm', '18 ft', '1/0 in', '1 2 mm', '--3', '0x10', Number.NaN, 'Infinity'])(
  'refuses %j with a sentence',
  (text) => expect(readLength(text)).toHaveProperty('problem'),
);
