import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { dryAssemble, findMaster, findMates, flatPartOf, partsOfMaster, refitMaster } from '../src/index.js';
import { demo, valueIn } from './demo.js';
import { strewn } from './found-pieces.js';
import { type GroovedBox, groovedBox, groovedCase } from './grooved-pieces.js';

const BOX: GroovedBox = {
  size: [300, 200, 120],
  wall: 12,
  bottom: 6,
  count: 4,
  depth: 6,
  raised: 12,
  through: false,
};
const CASES = [4, 5, 6].flatMap((count) =>
  [false, true].map((through): GroovedBox => ({ ...BOX, count, through })),
);

const EDGES = ['left', 'right'].flatMap((b) => ['front', 'back'].map((a) => `${a}-${b}`));
const ALL = [...EDGES, ...['front', 'back', 'left', 'right'].map((a) => `${a}-bottom`)].sort();

/** The joints of a found box by parts, those of the bottom last. */
const joints = (m: Master): string[] =>
  m.mates
    .map((x) =>
      [x.slotPart, x.enteringPart]
        .sort(
          (a, b) =>
            Number(a === 'bottom') - Number(b === 'bottom') || 'fblr'.indexOf(a[0]!) - 'fblr'.indexOf(b[0]!),
        )
        .join('-'),
    )
    .sort();

describe('a box with its bottom in grooves', () => {
  it.each(CASES)('is found whole: $count fingers, grooves through $through', (box) => {
    const found = valueIn(findMaster(strewn(groovedBox(box), 5), { from: 'box.dxf' }));
    expect(found.unanswered).toEqual([]);
    // Front and back, left and right are alike, so that either may stand for the other.
    expect(joints(found.master!)).toEqual(ALL);
    expect(found.master!.mates.filter((m) => m.type === 'housing')).toHaveLength(4);
    const thicker = refitMaster(found.master!, {
      thicknesses: Object.fromEntries(found.master!.parts.map((p) => [p.id, p.id === 'bottom' ? 5.5 : 12.7])),
    });
    const { interference, joints: judged } = valueIn(dryAssemble(valueIn(thicker)));
    expect([interference.total, judged.length]).toEqual([0, 8]);
    const bottom = partsOfMaster(valueIn(thicker)).find((p) => p.id === 'bottom')!;
    const sides = [0, 1].map((k) => {
      const [a, b] = [bottom.outline.bare.vertices[k]!, bottom.outline.bare.vertices[k + 1]!];
      return Math.hypot(b.x - a.x, b.y - a.y);
    });
    expect(Math.max(...sides)).toBeCloseTo(300 - 2 * 12.7 + 12, 3);
    expect(Math.min(...sides)).toBeCloseTo(200 - 2 * 12.7 + 12, 3);
  });
});

it('is told that a plate stands in a groove, or between fingers, without a joint, and where alone', () => {
  const { master } = valueIn(findMaster(groovedBox(BOX), { from: 'box.dxf', check: false }));
  const without = (id: string) =>
    dryAssemble({ ...master!, mates: master!.mates.filter((m) => m.id !== id) }, { order: false });
  for (const m of master!.mates)
    expect(without(m.id).diagnostics.map((d) => [d.code, d.locus.part, d.locus.feature])).toEqual(
      m.type === 'housing'
        ? [['dryfit/unjoined', m.slotPart, m.slotFeatures[0]]]
        : [
            [
              'dryfit/unjoined',
              expect.stringMatching(`${m.slotPart}|${m.enteringPart}`),
              expect.stringMatching(/\.outline$/),
            ],
          ],
    );
  expect(without('none').diagnostics).toEqual([]);
});

it('is told of every notch and lap of the sideboard that no joint names, but for a corner that holds nothing', () => {
  for (const id of ['M-EL-RL', 'M-D1-S2', 'M-RL-D1', 'M-BR-D2', 'M-EL-BR']) {
    const { slotPart: a, enteringPart: b } = demo.mates.find((m) => m.id === id)!;
    const piece = {
      ...demo,
      parts: demo.parts.filter((p) => p.id === a || p.id === b),
      // A piece without any joints is not asked for them: another one of the two stays, of the other name.
      mates: demo.mates
        .filter((m) => m.id !== id)
        .map((m) => ({ ...m, slotPart: a, enteringPart: a }))
        .slice(0, 1),
      assembly: [],
    };
    const said = dryAssemble(piece, { order: false }).diagnostics.map((d) => d.code);
    expect([id, said]).toEqual([id, id === 'M-EL-BR' ? [] : ['dryfit/unjoined']]);
  }
});

describe('a case with shelves in housings from edge to edge', () => {
  it('is found where shelves are as deep as the sides', () => {
    const found = findMates(strewn(groovedCase([60, 300, 620], [300, 300, 300]), 3).map(flatPartOf));
    expect(valueIn(found).mates).toHaveLength(6);
    expect([valueIn(found).questions, found.diagnostics]).toEqual([[], []]);
  });

  it('asks where a shelf stands in its housings that is less deep', () => {
    const found = valueIn(findMates(groovedCase([60, 300, 620], [300, 300, 270]).map(flatPartOf)));
    expect(found.mates).toHaveLength(6);
    expect(found.questions.map((q) => q.parts.includes('shelf2'))).toEqual([true]);
  });

  it('names the housings that nothing stands in', () => {
    const found = findMates(groovedCase([60, 300, 620], [300, 300]).map(flatPartOf));
    expect(valueIn(found).mates).toHaveLength(4);
    expect(found.diagnostics.filter((d) => d.code === 'mates/empty-slot').map((d) => d.locus.part)).toEqual([
      'left',
      'right',
    ]);
  });
});
