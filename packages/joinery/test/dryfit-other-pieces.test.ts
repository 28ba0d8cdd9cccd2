import { polygonRing, type Ring } from '@haunch/geometry';
import type { MasterMate } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DryPiece, dryAssemble, dryPieceOf } from '../src/index.js';
import { demo, valueIn } from './demo.js';
import { flatPart, turnedPiece, type V } from './dryfit-pieces.js';
import { spoiled, ZOO } from './dryfit-zoo.js';

describe('a piece that stands askew in the world', () => {
  it('goes together as it does upright', () => {
    for (const [axis, by] of [
      [[1, 2, 3], 0.7],
      [[-1, 0.2, 0.1], 2.1],
    ] as [V, number][]) {
      const done = valueIn(dryAssemble(turnedPiece(dryPieceOf(demo), axis, by)));
      expect(done.interference.total).toBe(0);
      expect(done.plan!.steps).toHaveLength(demo.parts.length - 1);
      for (const j of done.joints)
        for (const p of j.places)
          for (const d of p.directions) if (d.located) expect([0, null]).toContain(d.clearance);
    }
  });

  for (const animal of ZOO.filter((z) => z.code !== 'dryfit/bad-arc' && z.code !== 'dryfit/left-handed'))
    it(`is refused by the same name: ${animal.name}`, () => {
      const outcome = dryAssemble(turnedPiece(dryPieceOf(spoiled(animal)), [1, 2, 3], 0.7), { order: false });
      expect([...new Set(outcome.diagnostics.map((d) => d.code))]).toEqual([animal.code]);
    });
});

/** The outline of a board of a grid: 0 … length by 0 … height, slotted to its middle at the given places. */
function slotted(
  length: number,
  height: number,
  at: readonly number[],
  wide: number,
  from: 'top' | 'bottom',
): Ring {
  const half = height / 2;
  const edge = from === 'top' ? height : 0;
  const corners: [number, number][] = [];
  const notches = at.flatMap((x): [number, number][] => [
    [x, edge],
    [x, half],
    [x + wide, half],
    [x + wide, edge],
  ]);
  if (from === 'bottom') corners.push([0, 0], ...notches, [length, 0], [length, height], [0, height]);
  else corners.push([0, 0], [length, 0], [length, height], ...notches.reverse(), [0, height]);
  return polygonRing(corners.map(([x, y]) => ({ x, y })));
}

/** A grid of boards that cross in laps: rows along X slotted from above, columns along Y slotted from below. */
function grid(rows: number, columns: number, t: number, pitch: number): DryPiece {
  const at = (n: number) => Array.from({ length: n }, (_, i) => (i + 1) * pitch);
  const length = (n: number) => (n + 1) * pitch + t;
  const mates: MasterMate[] = [];
  for (let i = 0; i < rows; i++)
    for (let k = 0; k < columns; k++)
      mates.push({
        id: `M-R${i}-C${k}`,
        type: 'cross-lap',
        slotPart: `R${i}`,
        slotFeatures: [`slot ${k}`],
        enteringPart: `C${k}`,
        enteringMoves: '-Z',
        locates: ['+X', '-X', '+Y', '-Y'],
        stopsOn: '-Z',
      });
  return {
    parts: [
      ...at(rows).map((y, i) => ({
        part: flatPart(`R${i}`, slotted(length(columns), 100, at(columns), t, 'top'), t),
        // Seen from −Y: u along X, v up, so that n points to −Y.
        frame: { origin: [0, y + t, 0] as V, u: '+X' as const, v: '+Z' as const, n: '-Y' as const },
      })),
      ...at(columns).map((x, k) => ({
        part: flatPart(`C${k}`, slotted(length(rows), 100, at(rows), t, 'bottom'), t),
        frame: { origin: [x, 0, 0] as V, u: '+Y' as const, v: '+Z' as const, n: '+X' as const },
      })),
    ],
    mates,
  };
}

describe('grids of crossing boards', () => {
  const figures = fc.tuple(
    fc.integer({ min: 1, max: 3 }),
    fc.integer({ min: 1, max: 3 }),
    fc.integer({ min: 30, max: 250 }).map((x) => x / 10),
    fc.integer({ min: 40, max: 120 }),
  );

  it('go together whatever their size and thickness', () => {
    fc.assert(
      fc.property(figures, ([rows, columns, t, pitch]) => {
        const done = valueIn(dryAssemble(grid(rows, columns, t, pitch)));
        expect(done.interference.total).toBe(0);
        expect(done.joints).toHaveLength(rows * columns);
        expect(done.plan!.steps).toHaveLength(rows + columns - 1);
        expect(done.plan!.steps.flatMap((s) => s.engages)).toHaveLength(rows * columns);
      }),
      { numRuns: 25, seed: 5 },
    );
  });

  it('are refused when one board is from another sheet', () => {
    fc.assert(
      fc.property(figures, fc.constantFrom(-0.4, 0.4), ([rows, columns, t, pitch], by) => {
        fc.pre(rows + columns > 2);
        const piece = grid(rows, columns, t, pitch);
        const [first, ...rest] = piece.parts;
        const other = { ...first!, part: { ...first!.part, thickness: t + by } };
        const outcome = dryAssemble({ ...piece, parts: [other, ...rest] }, { order: false });
        expect([...new Set(outcome.diagnostics.map((d) => d.code))]).toEqual(['dryfit/wrong-sheet']);
        expect(outcome.diagnostics[0]!.locus.part).toBe('R0');
      }),
      { numRuns: 15, seed: 6 },
    );
  });

  it('are refused when a lap is too short, joint by joint', () => {
    const piece = grid(2, 2, 18, 100);
    const outcome = dryAssemble(
      {
        ...piece,
        parts: piece.parts.map((p) =>
          p.part.id === 'R1'
            ? {
                ...p,
                part: flatPart('R1', slotted(318, 100, [100, 200], 18, 'top'), 18),
                frame: { ...p.frame, origin: [0, 218, 2] as V },
              }
            : p,
        ),
      },
      { order: false },
    );
    expect(outcome.diagnostics.map((d) => [d.code, d.locus.joint])).toEqual([
      ['dryfit/short', 'M-R1-C0'],
      ['dryfit/short', 'M-R1-C1'],
    ]);
  });
});

describe('a master and its parts with frames', () => {
  it('are judged alike', () => {
    expect(dryAssemble(demo)).toEqual(dryAssemble(dryPieceOf(demo)));
  });
});
