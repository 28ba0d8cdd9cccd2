import { type Motion, ringBounds } from '@haunch/geometry';
import { movePart, type Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  learnFromTwo,
  partsOfMaster,
  recogniseFeatures,
  refitAsLearnt,
  refitByFeatures,
  refitMaster,
} from '../src/index.js';
import { all, demo, valueIn } from './demo.js';
import { farthest, partOf, plateOf, plateSpec, slotRing } from './features-pieces.js';

const atMarks = (t: number): Part[] =>
  partsOfMaster(valueIn(refitMaster(demo, { thicknesses: all(demo, t) })));

/** The part with the lower left corner of its outline at the origin. */
const atOrigin = (p: Part): Part => {
  const { minX, minY } = ringBounds(p.outline.ring);
  return movePart({ mirror: false, turn: 0, dx: -minX, dy: -minY }, p);
};

const turnedAbout = (p: Part, k: number): Part =>
  movePart({ mirror: false, turn: 0.3 * k, dx: 50 * k, dy: -20 * k } satisfies Motion, p);

describe('what two drawings teach', () => {
  it('makes a third sideboard that the marks make as well, with its parts elsewhere and turned in the second', () => {
    const second = atMarks(17.4).map(turnedAbout);
    const learnt = learnFromTwo(
      { parts: partsOfMaster(demo), thickness: 18 },
      { parts: second, thickness: 17.4 },
    );
    expect(learnt.diagnostics).toEqual([]);
    for (const t of [16.9, 18.65]) {
      const third = valueIn(refitAsLearnt(partsOfMaster(demo), valueIn(learnt), t));
      expect(farthest(third.map(atOrigin), atMarks(t).map(atOrigin))).toBeLessThan(0.0011);
    }
  });

  it('is whole and half thicknesses in the sideboard', () => {
    const learnt = valueIn(
      learnFromTwo({ parts: partsOfMaster(demo), thickness: 18 }, { parts: atMarks(17.4), thickness: 17.4 }),
    );
    const rates = new Set(learnt.parts.flatMap((p) => Object.values(p.edges)));
    expect([...rates].every((r) => Number.isInteger(2 * r))).toBe(true);
    expect(learnt.parts.map((p) => p.part)).toEqual(demo.parts.map((p) => p.id));
  });

  const t = fc.integer({ min: 120, max: 250 }).map((n) => n / 10);
  it('gives the first drawing back at its thickness and the second at the other', () =>
    fc.assert(
      fc.property(
        t.chain((v) => plateSpec(fc.constant(v))),
        fc.double({ min: 0.2, max: 0.6, noNaN: true }),
        (spec, by) => {
          const first = [plateOf('P', spec)];
          const to = Number((spec.t + by).toFixed(2));
          const table = valueIn(recogniseFeatures(first, { thicknesses: [spec.t] }));
          const second = valueIn(refitByFeatures(first, table, to, { leastWeb: 0.1 })).parts;
          const learnt = valueIn(
            learnFromTwo({ parts: first, thickness: spec.t }, { parts: second, thickness: to }),
          );
          expect(valueIn(refitAsLearnt(first, learnt, spec.t))).toBe(first);
          const again = valueIn(refitAsLearnt(first, learnt, to, { leastWeb: 0.1 }));
          expect(farthest(again.map(atOrigin), second.map(atOrigin))).toBeLessThan(4e-4);
        },
      ),
    ));

  it('finds the counterpart of a part that has another name, and says which part has none', () => {
    const slotted = (id: string, w: number): Part =>
      partOf(id, slotRing({ x: 0, y: 0 }, 300, 200), [slotRing({ x: 20, y: 10 }, w, 80)], null);
    const round = partOf('C', slotRing({ x: 0, y: 0 }, 90, 400), []);
    const learnt = learnFromTwo(
      { parts: [slotted('A', 18), round], thickness: 18 },
      { parts: [slotted('B', 17)], thickness: 17 },
    );
    expect(valueIn(learnt).parts.map((p) => p.part)).toEqual(['A']);
    expect(learnt.diagnostics.map((d) => [d.code, d.locus.part])).toEqual([['features/pair-unlike', 'C']]);
    const third = valueIn(refitAsLearnt([slotted('A', 18)], valueIn(learnt), 19));
    expect(farthest(third, [slotted('A', 19)])).toBeLessThan(2e-4);
  });

  it('says which edge moved by another measure, and refuses what teaches nothing', () => {
    const plate = (w: number, x: number): Part =>
      partOf('A', slotRing({ x: 0, y: 0 }, 300, 200), [slotRing({ x, y: 10 }, w, 80)]);
    const odd = learnFromTwo(
      { parts: [plate(18, 0)], thickness: 18 },
      { parts: [plate(17.3, 0)], thickness: 17 },
    );
    expect(odd.diagnostics.map((d) => d.code)).toEqual(['features/pair-odd', 'features/pair-odd']);
    const near = learnFromTwo({ parts: [], thickness: 18 }, { parts: [], thickness: 18.01 });
    expect(near.diagnostics.map((d) => d.code)).toEqual(['features/pair-same-thickness']);
    const none = learnFromTwo(
      { parts: [plate(18, 0)], thickness: 18 },
      { parts: [partOf('Z', slotRing({ x: 0, y: 0 }, 40, 900))], thickness: 17 },
    );
    expect(none.diagnostics.map((d) => d.code)).toContain('features/pair-nothing');
  });
});
