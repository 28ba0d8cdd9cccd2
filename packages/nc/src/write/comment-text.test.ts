import fc from 'fast-check';
import { expect, it } from 'vitest';
import { commentText } from './comment-text.js';

const round = { open: '(', close: ')' };

it('any text becomes printable ASCII without brackets of its own', () =>
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const out = commentText(text, round);
      expect(out).toMatch(/^[ -~]*$/);
      expect(out).not.toMatch(/[()]/);
      expect(out).toBe(out.trim());
      expect(out).not.toMatch(/^ *m *s *g *,/i);
    }),
  ));

it.each([
  ['Sideboard (oak)', 'Sideboard [oak]'],
  ['Möbel – 18 × 2', 'Mobel - 18 x 2'],
  ['Straße', 'Strasse'],
  ['two\nlines\tand  more', 'two lines and more'],
  ['msg, hello', 'msg: hello'],
  ['M s\tG , hello', 'M s G : hello'],
  ['Schrank 棚', 'Schrank ?'],
])('%j becomes %j', (text, out) => expect(commentText(text, round)).toBe(out));
