import fc from 'fast-check';
import { expect, it } from 'vitest';
import { xmlName, xmlText } from './xml-text.js';

it('leaves no markup and no character that XML forbids', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const out = xmlText(text);
      expect(out.replace(/&(amp|lt|gt|quot|#39);/g, '')).not.toMatch(/[<>&"']/);
      for (const c of out) {
        const code = c.codePointAt(0)!;
        expect(
          code === 9 ||
            code === 10 ||
            code === 13 ||
            (code >= 32 && (code < 0xd800 || code > 0xdfff) && code < 0xfffe) ||
            code > 0xffff,
        ).toBe(true);
      }
    }),
  );
  expect(xmlText(`<a b="c">'&\u0000\ud800`)).toBe('&lt;a b=&quot;c&quot;&gt;&#39;&amp;');
});

it('makes names that begin with a letter', () => {
  expect(['EL', 'EL/2', '12', 'a"b'].map(xmlName)).toEqual(['EL', 'EL_2', '_12', 'a_b']);
});
