import { readLength } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figureOf, formatLength, lengthText } from './display-unit.js';

describe('lengths as they are shown and typed', () => {
  it('a shown figure, typed back, is the same length to its last digit', () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 3000, noNaN: true }),
        fc.constantFrom('mm', 'inch'),
        (mm, unit) => {
          const back = readLength(lengthText(figureOf(mm, unit), unit));
          expect(Math.abs((back as number) - mm)).toBeLessThanOrEqual(
            unit === 'mm' ? 0.0051 : 0.0005 * 25.4 + 1e-9,
          );
        },
      ),
    ));

  it('says its unit, and never a negative nothing', () => {
    expect(formatLength(17.684, 'mm')).toBe('17.68 mm');
    expect(formatLength(17.684, 'inch')).toBe('0.696 in');
    expect(figureOf(-0.001, 'mm')).toBe('0.00');
  });

  it.each([
    ['17,7', '17.7 mm'],
    [' 17.7 ', '17.7 mm'],
    ['23/32"', '23/32"'],
    ['0.7 in', '0.7 in'],
    ['1,234,5', '1.234,5'],
    ['abc', 'abc'],
  ])('takes %j as %j', (typed, written) => expect(lengthText(typed, 'mm')).toBe(written));
});
