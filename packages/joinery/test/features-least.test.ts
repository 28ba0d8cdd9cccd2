import fc from 'fast-check';
import { Matrix, pseudoInverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { leastOffsets, type OffsetRow } from '../src/features/least-offsets.js';

const row = (terms: readonly (readonly [number, number])[], value: number, firm = true): OffsetRow => ({
  terms,
  value,
  name: `row ${JSON.stringify(terms)}`,
  firm,
});

describe('offsets of least squares', () => {
  const UNKNOWNS = 9;
  const rows = fc.array(
    fc.uniqueArray(fc.integer({ min: 0, max: UNKNOWNS - 1 }), { minLength: 1, maxLength: 3 }).chain((us) =>
      fc.tuple(
        fc.tuple(...us.map((u) => fc.constantFrom(-1, 1, 0.5).map((f) => [u, f] as const))),
        fc.integer({ min: -20, max: 20 }).map((n) => n / 10),
      ),
    ),
    { minLength: 1, maxLength: 7 },
  );

  // ml-matrix's Moore-Penrose inverse (by singular values) is the outside reference.
  it('are those of the Moore-Penrose inverse, whenever nothing contradicts', () =>
    fc.assert(
      fc.property(rows, (list) => {
        const { offsets, conflicts } = leastOffsets(
          UNKNOWNS,
          list.map(([terms, value]) => row(terms, value)),
        );
        fc.pre(conflicts.length === 0);
        const a = Matrix.zeros(list.length, UNKNOWNS);
        const b = Matrix.columnVector(list.map(([, value]) => value));
        list.forEach(([terms], i) => {
          for (const [u, f] of terms) a.set(i, u, a.get(i, u) + f);
        });
        const reference = pseudoInverse(a).mmul(b).to1DArray();
        reference.forEach((v, u) => {
          expect(offsets[u]).toBeCloseTo(v, 8);
        });
      }),
      { numRuns: 300 },
    ));

  it('share a change evenly between two free walls, and leave a held one where it is', () => {
    expect(leastOffsets(2, [row([[0, 1], [1, 1]], 0.6)]).offsets).toEqual([expect.closeTo(0.3), expect.closeTo(0.3)]); // biome-ignore format: one line a case
    expect(leastOffsets(2, [row([[0, 1], [1, 1]], 0.6), row([[0, 1]], 0)]).offsets).toEqual([expect.closeTo(0), expect.closeTo(0.6)]); // biome-ignore format: one line a case
  });

  it('drop a wish that contradicts, and report it where it is firm with what it contradicts', () => {
    const size = row([[0, 1], [1, -1]], 1); // biome-ignore format: short
    const holds = (firm: boolean) => [row([[0, 1]], 0, firm), row([[1, 1]], 0, firm)];
    expect(leastOffsets(2, [size, ...holds(false)])).toEqual({
      offsets: [expect.closeTo(0), expect.closeTo(-1)],
      conflicts: [],
    });
    const { conflicts } = leastOffsets(2, [size, ...holds(true)]);
    expect(conflicts.map((c) => [c.row.name, c.with])).toEqual([
      [holds(true)[1]!.name, [size.name, holds(true)[0]!.name].sort()],
    ]);
  });
});
