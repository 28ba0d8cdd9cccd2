import { readFileSync } from 'node:fs';
import { rectangleRing, ringBounds } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { frameOf } from '../src/frame.js';
import {
  defaultAllowances,
  type FlatPart,
  findJoints,
  findMates,
  fitParts,
  flatPartOf,
  type MateFindings,
  partsOfMaster,
  readMaster,
  refitMaster,
} from '../src/index.js';
import { all, demo, valueIn } from './demo.js';
import { bays, crate, middle, scrambled } from './mates-pieces.js';

const rack = valueIn(
  readMaster(
    readFileSync(
      new URL('../../../docs/examples/pigeonholes/pigeonholes.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const drawnRack = partsOfMaster(rack);
const truth = partsOfMaster(demo).map(flatPartOf);
const MATES = demo.mates.map((m) => [m.slotPart, m.enteringPart].sort().join('-')).sort();

/** Left and right of these are congruent: either may stand for the other. */
const TWINS = [
  ['EL', 'ER'],
  ['D1', 'D2'],
] as const;

type Point3 = readonly number[];
const minus = (p: Point3, q: Point3): number[] => p.map((v, k) => v - q[k]!);
const volume = (a: Point3, b: Point3, c: Point3): number =>
  a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) -
  a[1]! * (b[0]! * c[2]! - b[2]! * c[0]!) +
  a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!);

/**
 * How far the found piece is from the truth, mm: the greatest difference of a distance between two plates' middles, and
 * of a signed volume between four of them (over 300 mm squared), in the best of the ways and of the swaps of twins.
 */
function away(
  found: MateFindings,
  parts: readonly FlatPart[],
  names: ReadonlyMap<string, string>,
  real: readonly FlatPart[],
): number {
  const ways = found.questions[0]?.ways.map((w) => w.frames) ?? [found.frames];
  let best = Number.POSITIVE_INFINITY;
  for (const frames of ways)
    for (const swaps of [0, 1, 2, 3]) {
      const called = (id: string): string => {
        const name = names.get(id)!;
        const pair = TWINS.find((t, k) => (swaps >> k) % 2 === 1 && (t as readonly string[]).includes(name));
        return pair === undefined ? name : pair[0] === name ? pair[1] : pair[0];
      };
      const at = frames.map((f) => ({
        x: middle(parts.find((p) => p.id === f.part)!, f.frame),
        y: middle(
          real.find((p) => p.id === called(f.part))!,
          frameOf(demo.parts.find((p) => p.id === called(f.part))!),
        ),
      }));
      let worst = 0;
      const [o, ...rest] = at.map((p, _, all) => ({ x: minus(p.x, all[0]!.x), y: minus(p.y, all[0]!.y) }));
      for (const a of [o!, ...rest])
        for (const b of rest) {
          worst = Math.max(worst, Math.abs(Math.hypot(...minus(a.x, b.x)) - Math.hypot(...minus(a.y, b.y))));
          for (const c of rest)
            worst = Math.max(worst, Math.abs(volume(a.x, b.x, c.x) - volume(a.y, b.y, c.y)) / 90_000);
        }
      best = Math.min(best, worst);
    }
  return best;
}

/** For each shelf (S…) the distance of the middles of the two uprights (U…) that it joins, and its length between them. mm */
function baysAndShelves(
  found: MateFindings,
  parts: readonly FlatPart[],
  names: ReadonlyMap<string, string>,
): [number, number][] {
  const at = (id: string): Point3 =>
    middle(parts.find((p) => p.id === id)!, found.frames.find((f) => f.part === id)!.frame);
  return parts
    .filter((p) => names.get(p.id)!.startsWith('S'))
    .map((shelf) => {
      const [a, b, ...more] = found.mates
        .filter((m) => m.parts.includes(shelf.id))
        .map((m) => m.parts.find((id) => id !== shelf.id)!)
        .filter((id) => names.get(id)!.startsWith('U'));
      expect(more).toEqual([]);
      const { minX, maxX } = ringBounds(
        flatPartOf(drawnRack.find((p) => p.id === names.get(shelf.id))!).outline,
      );
      return [Math.hypot(...minus(at(a!), at(b!))), maxX - minX - shelf.thickness];
    });
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
      expect(away(found, parts, names, truth)).toBeLessThan(0.02);
    },
    60_000,
  );

  it('asks which way round the back rail goes, since nothing but its cable slot tells its ends apart', () => {
    const { parts, names } = scrambled(truth, 3);
    const { questions } = valueIn(findMates(parts));
    expect(questions.map((q) => [q.about, q.ways.length, q.parts.map((p) => names.get(p))])).toEqual([
      ['turned', 2, ['BR']],
    ]);
  }, 60_000);

  it.each([
    ['snug', 12.1],
    ['slip', 17.4],
    ['snug', 21.3],
  ] as const)(
    'finds the sideboard refitted with a %s fit to %f mm, reliefs drawn in it',
    (fit, t) => {
      const master = valueIn(refitMaster(demo, { thicknesses: all(demo, t) }));
      const joints = valueIn(findJoints(master, defaultAllowances(fit)));
      const relief = { radius: 3, surplus: 0.1, form: 'diagonal' } as const;
      const drawn = valueIn(fitParts(master, joints, { relief })).map(flatPartOf);
      const { parts, names } = scrambled(drawn, 4);
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
    },
    60_000,
  );

  it('closes the loops of an egg-crate, whose strips stand in for each other', () => {
    const found = valueIn(findMates(scrambled(crate(3, 6), 5).parts));
    expect([found.frames.length, found.mates.length, found.loops, found.loose.length]).toEqual([6, 9, 4, 0]);
  }, 60_000);

  // Found whole once more, and refitted, in pigeonholes-found.test.ts.
  it.each([5])(
    'finds the same rack of 45 parts, 35 of them shelves that stand in for each other, renamed, shuffled and turned by seed %i',
    (seed) => {
      const { parts, names } = scrambled(drawnRack.map(flatPartOf), seed);
      const found = valueIn(findMates(parts));
      const kinds = (a: string, b: string): string => [a[0], b[0]].sort().join('');
      const count = (all: readonly string[]): Record<string, number> =>
        all.reduce<Record<string, number>>((n, k) => Object.assign(n, { [k]: (n[k] ?? 0) + 1 }), {});
      expect(count(found.mates.map((m) => kinds(names.get(m.parts[0])!, names.get(m.parts[1])!)))).toEqual(
        count(rack.mates.map((m) => kinds(m.slotPart, m.enteringPart))),
      );
      expect([found.pieces, found.loose]).toEqual([1, []]);
      // Bays are 205 or 206 mm wide, so that each shelf tells in which of them it belongs: nothing is left to ask.
      expect(found.questions).toEqual([]);
      expect(
        baysAndShelves(found, parts, names).filter(([bay, shelf]) => Math.abs(bay - shelf) > 0.01),
      ).toEqual([]);
    },
    120_000,
  );

  it('finds a row of uprights and shelves, and asks which of its ways is meant', () => {
    const { parts } = scrambled(bays(3, 18), 6);
    const found = valueIn(findMates(parts));
    expect([found.pieces, found.frames.length, found.mates.length, found.loops]).toEqual([1, 10, 12, 3]);
    const chosen = valueIn(findMates(parts, { answers: { 'piece-0': 1 } }));
    expect(chosen.questions).toEqual([]);
    expect(chosen.frames).toEqual(found.questions[0]!.ways[1]!.frames);
  }, 60_000);

  it('finds a longer row whole, whose uprights fit others than their neighbours too', () => {
    const found = findMates(scrambled(bays(7, 18), 2).parts);
    expect(valueIn(found).mates).toHaveLength(28);
    expect(found.diagnostics.map((d) => d.code)).toEqual(['mates/ambiguous']);
  }, 60_000);

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
    // Nothing is asked of a plate alone, so that even its only way is no answer.
    expect(codes([board('A', 18)], { 'piece-0': 0 })).toEqual(['mates/unknown-answer']);
    expect(codes([board('A', 18)], { 'piece-0': 1 })).toEqual(['mates/unknown-answer']);
  });

  it('names the part whose slots nothing fills when a shelf is missing, and none when all is there', () => {
    const said = (parts: readonly FlatPart[]): (string | undefined)[] =>
      findMates(parts)
        .diagnostics.filter((d) => d.code === 'mates/empty-slot')
        .map((d) => d.locus.part);
    expect(said(truth)).toEqual([]);
    expect(said(bays(1, 18).slice(0, 3)).sort()).toEqual(['upright0', 'upright1']);
  }, 60_000);

  it('says that parts make two pieces, and asks about the one that is ambiguous', () => {
    const codes = findMates([...bays(1, 18), ...crate(2, 6)]).diagnostics.map((d) => d.code);
    expect(codes).toEqual(['mates/ambiguous', 'mates/several-pieces']);
  }, 60_000);

  it('gives the same bytes for the same parts', () => {
    const once = JSON.stringify(findMates(crate(3, 6)));
    expect(JSON.stringify(findMates(crate(3, 6)))).toBe(once);
  });

  it('stops when it is told to, and says so', () => {
    const stopped = findMates(truth, {}, { tick: () => false });
    expect(stopped.diagnostics.map((d) => d.code)).toContain('mates/stopped');
  });
});
