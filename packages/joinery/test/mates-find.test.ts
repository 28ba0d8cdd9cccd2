import { rectangleRing } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { frameOf } from '../src/frame.js';
import { type FlatPart, findMates, flatPartOf, type MateFindings, partsOfMaster } from '../src/index.js';
import { demo, valueIn } from './demo.js';
import { middle, scrambled } from './mates-pieces.js';

const truth = partsOfMaster(demo).map(flatPartOf);
const MATES = demo.mates.map((m) => [m.slotPart, m.enteringPart].sort().join('-')).sort();

/** The greatest difference of a distance between two plates' middles from the truth, over the best of the ways. */
function away(found: MateFindings, parts: readonly FlatPart[], names: ReadonlyMap<string, string>): number {
  const ways = found.questions[0]?.ways.map((w) => w.frames) ?? [found.frames];
  const errors = ways.map((frames) => {
    let worst = 0;
    const at = frames.map((f) => ({
      name: names.get(f.part)!,
      x: middle(parts.find((p) => p.id === f.part)!, f.frame),
      real: middle(
        truth.find((p) => p.id === names.get(f.part))!,
        frameOf(demo.parts.find((p) => p.id === names.get(f.part))!),
      ),
    }));
    for (const a of at)
      for (const b of at) {
        const d = (p: readonly number[], q: readonly number[]): number =>
          Math.hypot(...p.map((v, k) => v - q[k]!));
        worst = Math.max(worst, Math.abs(d(a.x, b.x) - d(a.real, b.real)));
      }
    return worst;
  });
  return Math.min(...errors);
}

describe('findMates', () => {
  it.each([1, 2])(
    'finds the sideboard from its bare plates, turned and turned over by seed %i',
    (seed) => {
      const { parts, names } = scrambled(truth, seed);
      const found = valueIn(findMates(parts));
      expect(
        found.mates
          .map((m) =>
            m.parts
              .map((p) => names.get(p)!)
              .sort()
              .join('-'),
          )
          .sort(),
      ).toEqual(MATES);
      expect(found.loose.map((p) => names.get(p))).toEqual(['S3']);
      expect(away(found, parts, names)).toBeLessThan(0.02);
    },
    60_000,
  );

  it('says what is wrong with parts it cannot use, and which part fits nothing', () => {
    const board = (id: string, thickness: number): FlatPart => ({
      id,
      thickness,
      outline: rectangleRing(0, 0, 300, 200),
      through: [],
      pockets: [],
    });
    const codes = (parts: FlatPart[], answers?: Record<string, number>): string[] =>
      findMates(parts, answers === undefined ? {} : { answers }).diagnostics.map((d) => d.code);
    expect(codes([])).toEqual(['mates/no-parts']);
    expect(codes([board('A', 18), board('A', 18)])).toEqual(['mates/same-id']);
    expect(codes([board('A', 0)])).toEqual(['mates/bad-thickness']);
    expect(
      codes([{ ...board('A', 18), pockets: [{ ring: rectangleRing(9, 9, 50, 50), depth: 18 }] }]),
    ).toEqual(['mates/bad-pocket']);
    expect(codes([board('A', 18), board('B', 18)])).toEqual(['mates/fits-nothing', 'mates/fits-nothing']);
    expect(codes([board('A', 18)], { 'piece-0': 1 })).toEqual(['mates/unknown-answer']);
  });

  it('stops when it is told to, and says so', () => {
    const stopped = findMates(truth, {}, { tick: () => false });
    expect(stopped.diagnostics.map((d) => d.code)).toContain('mates/stopped');
  });
});
