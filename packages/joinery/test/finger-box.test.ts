import type { Master, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  dryAssemble,
  type FlatPart,
  findMaster,
  findMates,
  flatPartOf,
  type MateFindings,
  partsOfMaster,
  refitMaster,
} from '../src/index.js';
import { all, valueIn } from './demo.js';
import { edgesOfBox, type FingerBox, fingerBox } from './finger-box.js';
import { strewn } from './found-pieces.js';
import { scrambled, strip } from './mates-pieces.js';

const SIZE = [300, 210, 160] as const;
const RELIEF = { radius: 1.5, surplus: 0.1, form: 'diagonal' } as const;
const CUT = { ends: 0.2, relief: RELIEF } as const;

/** The eight ways in which a plate that lies square may be turned and turned over. */
const TURNS = [1, -1].flatMap((a) =>
  [1, -1].flatMap((b) => [false, true].map((swap) => [a, b, swap] as const)),
);

/** The corners of a part's outline in words, alike however the part lies square on the table. To 0.001 mm. */
const shape = (p: Part): string =>
  TURNS.map(([a, b, swap]) => {
    const all = p.outline.bare.vertices.map(
      (v) => (swap ? [a * v.y, b * v.x] : [a * v.x, b * v.y]) as [number, number],
    );
    const [x, y] = [0, 1].map((k) => Math.min(...all.map((v) => v[k]!)));
    return all
      .map((v) => `${(v[0] - x! + 1e-9).toFixed(3)},${(v[1] - y! + 1e-9).toFixed(3)}`)
      .sort()
      .join(' ');
  }).sort()[0]!;
const shapes = (parts: readonly Part[]): string[] => parts.map(shape).sort();

const pairs = (found: MateFindings, names: ReadonlyMap<string, string>): string[] =>
  found.mates
    .map((m) =>
      m.parts
        .map((p) => names.get(p)!)
        .sort()
        .join('-'),
    )
    .sort();

/** Which plates of a box meet, by its own frames. */
const meeting = (lid: boolean): string[] => {
  const sides = ['front back', 'left right', lid ? 'bottom top' : 'bottom'].map((s) => s.split(' '));
  return sides
    .flatMap((a, i) =>
      sides.slice(i + 1).flatMap((b) => a.flatMap((x) => b.map((y) => [x, y].sort().join('-')))),
    )
    .sort();
};

const foundBox = (box: FingerBox, seed: number, answers: Readonly<Record<string, number>> = {}): Master => {
  const found = valueIn(findMaster(strewn(fingerBox(box).parts, seed), { from: 'box.dxf', answers }));
  if (!found.master) throw new Error(found.unanswered.map((d) => d.message).join());
  return found.master;
};

describe('a box of plates with fingers', () => {
  const CASES = [6, 18].flatMap((thickness) =>
    [3, 5, 7].flatMap((n) =>
      [false, true].flatMap((lid) =>
        [{}, CUT].map((drawn) => ({ size: SIZE, count: [n, n, n], thickness, lid, ...drawn }) as const),
      ),
    ),
  );

  it('is drawn so that its plates go together without room between them', () => {
    for (const box of CASES.filter((_, k) => k % 5 === 0)) {
      const { interference, joints } = valueIn(dryAssemble(fingerBox(box).master));
      expect([interference.total, joints.length]).toEqual([0, 0]);
    }
  }, 60_000);

  it.each(CASES)(
    'is found from its flat plates: $count fingers, $thickness mm, lid $lid, ends $ends',
    (box) => {
      // Front and back, left and right, bottom and top are alike, so that any of two may stand for the other.
      const { parts, names } = scrambled(fingerBox(box).parts.map(flatPartOf), 7);
      const found = valueIn(findMates(parts));
      expect(pairs(found, names)).toEqual(meeting(box.lid));
      expect(found.mates).toHaveLength(edgesOfBox(box.lid));
      expect([found.loose, found.questions, found.pieces]).toEqual([[], [], 1]);
    },
    60_000,
  );

  it.each([
    [{ size: SIZE, count: [3, 3, 3], thickness: 6 }, 11],
    [{ size: SIZE, count: [3, 5, 7], thickness: 6, lid: true, ...CUT }, 12],
    [{ size: SIZE, count: [7, 5, 3], thickness: 18, ...CUT }, 13],
    [{ size: SIZE, count: [5, 5, 3], thickness: 18, lid: true }, 14],
  ] as const)(
    'refits to what the builder draws at another thickness, every corner within 0.001 mm: %j',
    (box, seed) => {
      const master = foundBox(box, seed);
      for (const t of [box.thickness, box.thickness * 0.95, box.thickness + 0.7]) {
        const refitted = valueIn(refitMaster(master, { thicknesses: all(master, t) }));
        const truth = fingerBox({ ...box, ends: 0, relief: null, thickness: t });
        expect(shapes(partsOfMaster(refitted))).toEqual(shapes(truth.parts));
        expect(valueIn(dryAssemble(refitted)).interference.total).toBe(0);
      }
    },
    60_000,
  );

  it('refits with sheets of two thicknesses', () => {
    const thickness = { front: 12, back: 12, left: 12, right: 12, bottom: 6 };
    const box = { size: SIZE, count: [5, 5, 3], thickness } as const;
    const master = foundBox(box, 21);
    const other = Object.fromEntries(Object.entries(thickness).map(([id, t]) => [id, t === 6 ? 5.6 : 12.4]));
    const refitted = valueIn(refitMaster(master, { thicknesses: other }));
    expect(shapes(partsOfMaster(refitted))).toEqual(shapes(fingerBox({ ...box, thickness: other }).parts));
  }, 60_000);

  it('asks which way a cube goes together, whose plates may stand in for each other, and takes either answer', () => {
    const cube = { size: [200, 200, 200], count: [5, 5, 5], thickness: 18, lid: true } as const;
    const found = valueIn(findMates(fingerBox(cube).parts.map(flatPartOf)));
    expect(found.questions.map((q) => [q.id, q.about, q.ways.map((w) => w.mates.length)])).toEqual([
      ['piece-0', 'places', [12, 12]],
    ]);
    for (const answer of [1, 2]) {
      const master = foundBox(cube, 5, { 'piece-0': answer });
      const refitted = valueIn(refitMaster(master, { thicknesses: all(master, 17.2) }));
      expect(shapes(partsOfMaster(refitted))).toEqual(shapes(fingerBox({ ...cube, thickness: 17.2 }).parts));
    }
  }, 60_000);

  it('is found where fingers are less than 4 mm wide', () => {
    const small = { size: [33, 26, 19], count: [9, 7, 5], thickness: 2, lid: true } as const;
    const longer = { size: [57, 42, 30], count: [15, 11, 9], thickness: 3 } as const;
    for (const box of [small, longer]) {
      const { parts, names } = scrambled(fingerBox(box).parts.map(flatPartOf), 3);
      expect(pairs(valueIn(findMates(parts)), names)).toEqual(meeting('lid' in box));
    }
  }, 60_000);

  it('is found where many fingers are as wide as the sheet is thick, so that each gap looks like a slot', () => {
    // In the second, edges of 70 and 50 mm have the same pitch, and flanks lie 0.1 mm beside roots.
    for (const box of [
      { size: [96, 70, 53], count: [31, 21, 17], thickness: 3, lid: true },
      { size: [96, 70, 50], count: [31, 21, 15], thickness: 3, lid: false },
    ] as const) {
      const { parts, names } = scrambled(fingerBox(box).parts.map(flatPartOf), 3);
      expect(pairs(valueIn(findMates(parts)), names)).toEqual(meeting(box.lid));
    }
  }, 60_000);

  it('finds no run where a plate has no gaps, nor where fingers are of another pitch', () => {
    const box = fingerBox({ size: SIZE, count: [3, 3, 3], thickness: 6 }).parts.map(flatPartOf);
    const other = fingerBox({ size: [260, 190, 130], count: [5, 5, 5], thickness: 6 }).parts.map(flatPartOf);
    const plain: FlatPart = { ...strip('plain', 0, 6), through: [] };
    const front = box.find((p) => p.id === 'front')!;
    const strange = other.find((p) => p.id === 'left')!;
    for (const second of [plain, strange]) {
      const found = findMates([front, second]);
      expect(valueIn(found).mates).toEqual([]);
      expect(found.diagnostics.map((d) => d.code)).toEqual(['mates/fits-nothing', 'mates/fits-nothing']);
    }
  });
});
