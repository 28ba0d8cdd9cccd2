import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OutlineFont } from './outline-font.js';
import { textRuns } from './text-runs.js';

const ALL: OutlineFont = { has: () => true, bytes: new Uint8Array() };
const stand = (text: string): string[] => textRuns(text, ALL).runs.map((r) => r.text);

// The orders of these lines are those of Unicode Standard Annex 9 in a paragraph from left to right, worked out by hand.
describe('names in scripts that are written from right to left', () => {
  it('have their words from right to left, and words round them stay where they are', () => {
    expect(stand('מדף עליון')).toEqual(['עליון', ' ', 'מדף']);
    expect(stand('A1 רף علوي B').join('|')).toBe('A1| |علوي| |רף| |B');
  });

  it('keep figures as they are read, on the side where they belong', () => {
    expect(stand('רגל ימין 12')).toEqual(['12', ' ', 'ימין', ' ', 'רגל']);
    expect(stand('רף 3.5 علوي')).toEqual(['علوي', ' ', '3.5', ' ', 'רף']);
    expect(stand('12 רגל')).toEqual(['12', ' ', 'רגל']);
  });

  it('mirror brackets that stand among them', () => {
    expect(stand('מדף (עליון) B').join('')).toBe('(עליון) מדף B');
  });

  it('leave all other texts as they were, and lose no letter', () => {
    expect(textRuns('S1 (upper) 3.5', ALL).runs).toEqual([{ font: 'standard', text: 'S1 (upper) 3.5' }]);
    const letter = fc.constantFrom('a', 'Z', '1', '.', ' ', '(', ')', 'א', 'ש', 'ر', 'ع', '木');
    fc.assert(
      fc.property(fc.string({ unit: letter, maxLength: 24 }), (text) => {
        const sorted = (t: string): string => [...t.replaceAll(')', '(')].sort().join('');
        expect(sorted(stand(text).join(''))).toBe(sorted(text));
      }),
    );
  });

  it('are given by their numbers where no font has them', () => {
    expect(textRuns('רף', undefined)).toEqual({
      runs: [{ font: 'standard', text: '[U+05E8][U+05E3]' }],
      strange: ['ר', 'ף'],
    });
  });
});
