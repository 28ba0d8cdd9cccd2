import { expect, it } from 'vitest';
import { findParts, formatDxf, readDxf, sheetOfParts, thicknessSupport } from '../src/index.js';
import { sideboardParts } from './sideboard.js';

it('finds the sideboard 18 mm thick, by its slots, with reasons', () => {
  const [best, rival] = thicknessSupport(sideboardParts());
  expect(best!.value).toBe(18);
  expect(best!.support).toBeGreaterThan(2 * (rival?.support ?? 0));
  expect(best!.reasons.join(' ')).toMatch(/slots are 18 mm wide/);
});

it('says the same of the drawing as of the parts that it was drawn from', () => {
  const drawing = readDxf(formatDxf(sheetOfParts(sideboardParts())));
  const parts = drawing.ok ? findParts(drawing.value) : null;
  if (!parts?.ok) throw new Error('not read');
  expect(thicknessSupport(parts.value).map((c) => [c.value, c.support])).toEqual(
    thicknessSupport(sideboardParts()).map((c) => [c.value, c.support]),
  );
});

it('has nothing to say of parts without slots and steps', () => {
  const plain = sideboardParts().filter((p) => p.id === 'S3');
  expect(plain.length).toBe(1);
  expect(thicknessSupport(plain)).toEqual([]);
});

it('orders candidates by support, then by value, and each keeps its rivals', () => {
  const all = thicknessSupport(sideboardParts());
  for (let i = 1; i < all.length; i++) {
    const [a, b] = [all[i - 1]!, all[i]!];
    expect(a.support > b.support || (a.support === b.support && a.value < b.value)).toBe(true);
  }
});
