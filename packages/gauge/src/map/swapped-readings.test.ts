import type { ThicknessMap } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { EIGHT, mapOf } from '../../test/measured-sheet.js';
import { findSwapped } from './swapped-readings.js';

describe('findSwapped', () => {
  const board = (id: string, mean: number, rest: { nominal?: number; earlier?: ThicknessMap } = {}) => ({
    id,
    readings: [0.02, -0.02, 0].map((d) => ({ thickness: mean + d })),
    locus: { board: id },
    ...rest,
  });

  it('names two boards whose readings each go with the other one’s label', () => {
    const found = findSwapped([
      board('birch', 11.8, { nominal: 18 }),
      board('oak', 17.8, { nominal: 12 }),
      board('other', 17.7, { nominal: 18 }),
    ]);
    expect(found.map((f) => f.boards)).toContainEqual(['birch', 'oak']);
    expect(found[0]?.diagnostic.message).toContain("'birch' (about 11.8 mm) and 'oak' (about 17.8 mm)");
    expect(findSwapped([board('a', 18.8, { nominal: 18 }), board('b', 17.9, { nominal: 19 })])).toHaveLength(
      1,
    );
  });

  it('names them by what was measured on each before, where the labels are alike', () => {
    const earlier = (t: number) => mapOf(EIGHT.map((at) => ({ thickness: t, at })));
    const [thin, thick] = [earlier(17.4), earlier(17.9)];
    const swapped = findSwapped([
      board('a', 17.9, { nominal: 18, earlier: thin }),
      board('b', 17.4, { nominal: 18, earlier: thick }),
    ]);
    expect(swapped.map((s) => s.boards)).toEqual([['a', 'b']]);
    expect(swapped[0]?.diagnostic.message).toContain('before');
  });

  it('is silent where boards are as they were, or only one is strange, or labels are alike', () => {
    expect(findSwapped([board('a', 17.9, { nominal: 18 }), board('b', 18.8, { nominal: 19 })])).toEqual([]);
    expect(findSwapped([board('a', 18.8, { nominal: 18 }), board('b', 18.9, { nominal: 19 })])).toEqual([]);
    expect(findSwapped([board('a', 18.3, { nominal: 18 }), board('b', 17.6, { nominal: 18 })])).toEqual([]);
    expect(findSwapped([board('a', 17.9), board('b', 12.1, { nominal: 18 })])).toEqual([]);
  });
});
