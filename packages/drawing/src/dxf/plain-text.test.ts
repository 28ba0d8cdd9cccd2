import { expect, it } from 'vitest';
import { plainMtext, plainText } from './plain-text.js';

it('resolves control codes and escapes of TEXT', () => {
  expect(plainText('%%c12 %%p0.5 at 45%%d, %%u100%%%')).toBe('Ø12 ±0.5 at 45°, 100%');
  expect(plainText('T\\U+00FCr %%065')).toBe('Tür A');
});

it('takes the formatting out of MTEXT and keeps the words', () => {
  expect(plainMtext('{\\fSome font|b0|i0;Shelf \\H2.5x;18\\~mm}\\PUpper face')).toBe(
    'Shelf 18 mm\nUpper face',
  );
  expect(plainMtext('\\S23/32;" and \\S1#2;')).toBe('23/32" and 1/2');
  expect(plainMtext('a \\{b\\} \\\\ c')).toBe('a {b} \\ c');
});

it('takes carets for control characters and keeps words apart', () => {
  expect(plainMtext('Shelf^I18^J2 off')).toBe('Shelf 18\n2 off');
  expect(plainMtext('2^ 3')).toBe('2^3');
  expect(plainMtext('{\\C1;\\LLeft\\l \\Oside\\o \\Kold\\k}\\pxqc;\\A1; end')).toBe('Left side old end');
});

it('decodes escapes of two bytes, and an escaped backslash begins no code', () => {
  // 0x82 0xA0 is HIRAGANA LETTER A in Shift_JIS, 0xB0 0xA1 a Hanzi in GBK (Encoding standard, both indexes).
  expect(plainText('\\M+182A0')).toBe('あ');
  expect(plainMtext('\\M+5B0A1')).toBe('啊');
  expect(plainMtext('a\\U+005CPb')).toBe('a\\Pb');
});

it('ends for any tail', () => {
  for (const tail of ['\\', '\\S', '\\f', '{', '\\U+00', '%%', '\\S1^'])
    expect(typeof plainMtext(`x${tail}`)).toBe('string');
});
