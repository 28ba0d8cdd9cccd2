import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advance, begin, type History, redo, undo } from './history.js';

const document = (n: number) => ({ id: `s${n}`, text: '{}', sources: {} });
const after = (n: number): History => {
  let h = begin(document(0), 'opened');
  for (let i = 1; i <= n; i++) h = advance(h, document(i), `step ${i}`);
  return h;
};

describe('the steps of a job', () => {
  it('come back in order, however often they are undone and done again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 30 }), fc.array(fc.boolean(), { maxLength: 60 }), (n, ways) => {
        let h = after(n);
        let at = n;
        for (const back of ways) {
          h = back ? undo(h) : redo(h);
          at = back ? Math.max(0, at - 1) : Math.min(n, at + 1);
          expect(h.now.document.id).toBe(`s${at}`);
        }
      }),
    );
  });

  it('let go of what was undone once something else is done', () => {
    const h = advance(undo(undo(after(3))), document(9), 'another');
    expect(h.future).toEqual([]);
    expect(h.past.map((s) => s.document.id)).toEqual(['s0', 's1']);
    expect(redo(h)).toBe(h);
  });
});
