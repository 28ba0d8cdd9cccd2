import fc from 'fast-check';
import { expect, it } from 'vitest';
import { plainText } from '../dxf/plain-text.js';
import { asciiText, layerNames } from './name-text.js';

it('writes any line of text in ASCII so that it reads back the same', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const line = text.replace(/\p{Cc}+/gu, ' ');
      expect(asciiText(text)).toMatch(/^[\x20-\x7e]*$/);
      expect(plainText(asciiText(text))).toBe(line);
    }),
  );
  for (const hard of ['50%%c', '%%%', '\\U+0041', 'Tür ½"', '%%c%%'])
    expect(plainText(asciiText(hard))).toBe(hard);
});

it('makes layer names legal and keeps them apart', () => {
  expect([...layerNames(['EL', 'EL/2', 'EL:2', 'el', 'Tür']).values()]).toEqual([
    'EL',
    'EL_2',
    'EL_2-2',
    'el-2',
    'T\\U+00FCr',
  ]);
});
