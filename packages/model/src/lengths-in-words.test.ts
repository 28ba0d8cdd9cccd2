import { describe, expect, it } from 'vitest';
import { turnLengths } from './lengths-in-words.js';

/** Ten times as much, in another unit, with a mark for each decimal. */
const turned = (sentence: string): string =>
  turnLengths(sentence, {
    figure: (mm, decimals) => `${+(10 * mm).toFixed(6)}${"'".repeat(decimals)}`,
    unit: 'tenths',
    place: (x, y) => `at ${x}/${y}`,
  });

describe('lengths in a sentence', () => {
  it.each([
    ['a slot of 6 mm', 'a slot of 60 tenths'],
    ['a board of 1200 × 300 mm', 'a board of 12000 × 3000 tenths'],
    ['it measures 5.980 ± 0.012 mm; 42 m until', "it measures 59.8''' ± 0.12''' tenths; 42 m until"],
    ['gaps of 0.1 to 0.25 mm', "gaps of 1' to 2.5'' tenths"],
    ['0.1 … 0.25 mm', "1' … 2.5'' tenths"],
    ['between 17.6 and 17.8 mm: go', "between 176' and 178' tenths: go"],
    ['off by -0.5 mm at (50, 1170)', "off by -5' tenths at at 50/1170"],
  ])('%s', (sentence, expected) => expect(turned(sentence)).toBe(expected));

  it.each([
    ['S1 and 0.1 mm', "S1 and 1' tenths"],
    ['joints M-1 to 3 mm', 'joints M-1 to 30 tenths'],
    ['step 12 × 3: 2 mm deep', 'step 12 × 3: 20 tenths deep'],
    ['6000 mm/min', '60000 tenths/min'],
    ['router-6 mm', 'router-6 mm'],
    ['3 mmol, 18000 rpm', '3 mmol, 18000 rpm'],
  ])('takes no digits of a name for a length: %s', (sentence, expected) =>
    expect(turned(sentence)).toBe(expected),
  );
});
