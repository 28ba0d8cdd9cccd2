import { readFileSync } from 'node:fs';
import type { Master, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atFrame, masterPart } from '../src/found/standing.js';
import {
  dryAssemble,
  type FoundFrame,
  findMates,
  flatPartOf,
  type MateFindings,
  partsOfMaster,
  readMaster,
} from '../src/index.js';
import { angleOfSlot, slotWidthFor } from '../src/mates/lean.js';
import { valueIn } from './demo.js';
import { leaningPiece, slotFor } from './leaning-piece.js';
import { scrambled } from './mates-pieces.js';

const DEGREES = 180 / Math.PI;
const stand = valueIn(
  readMaster(
    readFileSync(
      new URL('../../../docs/examples/reading-stand/reading-stand.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const truth = partsOfMaster(stand).map(flatPartOf);

/** The angle between two found parts, degrees, 90 at the most. */
function between(frames: readonly FoundFrame[], a: string, b: string): number {
  const n = (id: string) => frames.find((f) => f.part === id)!.frame.n;
  const cosine = n(a).reduce((sum, v, k) => sum + v * n(b)[k]!, 0);
  return Math.acos(Math.min(1, Math.abs(cosine))) * DEGREES;
}

/** The reading stand with its parts where they were found. */
const standing = (found: MateFindings, parts: readonly Part[]): Master => ({
  ...stand,
  marks: [],
  mates: [],
  assembly: [],
  parts: parts.map((p) => atFrame(masterPart(p), found.frames.find((f) => f.part === p.id)!.frame)),
});

const named = (found: MateFindings, names: ReadonlyMap<string, string>): string[] =>
  found.mates
    .map((m) =>
      m.parts
        .map((p) => names.get(p)!)
        .sort()
        .join('-'),
    )
    .sort();

describe('plates that lean', () => {
  it('tells the angle that a slot is wide for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.55, max: Math.PI / 2 - 0.01, noNaN: true }),
        fc.double({ min: 3, max: 30, noNaN: true }),
        fc.double({ min: 3, max: 30, noNaN: true }),
        (angle, slotted, passing) => {
          const width = slotWidthFor(slotted, passing, angle);
          expect(width).toBeCloseTo(slotFor({ angle, slotted, passing }), 9);
          expect(angleOfSlot(width, slotted, passing)).toBeCloseTo(angle, 6);
        },
      ),
    );
    // The reading stand's own figures: 24 up on 7 back and 4 up on 3 back, set out in whole numbers.
    expect(angleOfSlot(24, 18, 18)).toBeCloseTo(Math.atan2(24, 7), 12);
    expect(angleOfSlot(36, 18, 18)).toBeCloseTo(Math.atan2(4, 3), 12);
    expect(angleOfSlot(18, 18, 18)).toBeNull();
    expect(angleOfSlot(100, 18, 18)).toBeNull();
  });

  it.each([40, 55, 70, 82, 101, 125, 139])('are found at %i degrees, of any two thicknesses', (degrees) => {
    for (const [slotted, passing] of [
      [18, 18],
      [15, 9],
      [6.3, 11],
    ] as const) {
      const master = leaningPiece({ angle: degrees / DEGREES, slotted, passing });
      const found = valueIn(findMates(scrambled(partsOfMaster(master).map(flatPartOf), 4).parts));
      expect(found.mates).toHaveLength(1);
      const [a, b] = found.mates[0]!.parts;
      const acute = Math.min(degrees, 180 - degrees);
      for (const { frames } of [found, ...found.questions.flatMap((q) => q.ways)])
        expect(Math.abs(between(frames, a, b) - acute)).toBeLessThan(0.01);
    }
  });

  it('are asked about where they may lean to either side', () => {
    const master = leaningPiece({ angle: 1.2, slotted: 18, passing: 15 });
    const { questions } = valueIn(findMates(partsOfMaster(master).map(flatPartOf)));
    expect(questions.map((q) => q.ways.length > 1)).toEqual([true]);
  });

  it.each([1, 2])(
    'make the reading stand from its bare plates, scrambled by seed %i',
    (seed) => {
      const { parts, names } = scrambled(truth, seed);
      const found = valueIn(findMates(parts));
      expect(named(found, names)).toEqual(
        stand.mates.map((m) => [m.slotPart, m.enteringPart].sort().join('-')).sort(),
      );
      const id = (name: string): string => [...names].find(([, n]) => n === name)![0];
      const { frames } = found;
      expect(between(frames, id('BASE'), id('BACK'))).toBeCloseTo(Math.atan2(24, 7) * DEGREES, 3);
      expect(between(frames, id('BASE'), id('CARD'))).toBeCloseTo(Math.atan2(4, 3) * DEGREES, 3);
    },
    60_000,
  );

  it('of the reading stand do not overlap anything where they are found', () => {
    const parts = partsOfMaster(stand);
    const found = valueIn(findMates(parts.map(flatPartOf)));
    expect(valueIn(dryAssemble(standing(found, parts))).interference.total).toBeLessThan(0.5);
  }, 60_000);

  it('take the angle that somebody says where clearance is drawn in the slot', () => {
    const angle = 65 / DEGREES;
    const master = leaningPiece({ angle, slotted: 18, passing: 15, wider: 0.3 });
    const parts = partsOfMaster(master).map(flatPartOf);
    const told = (lean?: number): number => {
      const found = valueIn(
        findMates(parts.map((p) => (p.id === 'S' && lean !== undefined ? { ...p, lean } : p))),
      );
      return between(found.frames, 'U', 'S');
    };
    expect(Math.abs(told() - 65)).toBeGreaterThan(0.3);
    expect(Math.abs(told(angle) - 65)).toBeLessThan(1e-6);
  });

  it('are not seen where the tenon is too short to pass right through, nor in a slot that is too narrow', () => {
    const parts = partsOfMaster(leaningPiece({ angle: 1.1, slotted: 18, passing: 15 })).map(flatPartOf);
    const thick = parts.map((p) => (p.id === 'U' ? { ...p, thickness: 60 } : p));
    const narrow = parts.map((p) => (p.id === 'S' ? { ...p, thickness: 40 } : p));
    for (const strange of [thick, narrow]) expect(valueIn(findMates(strange)).mates).toEqual([]);
  });
});
