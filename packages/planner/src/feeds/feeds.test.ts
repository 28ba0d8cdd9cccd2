import { rectangleRing } from '@haunch/geometry';
import type { SheetMaterial } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inputOf, MACHINE, partOf, ROUTER } from '../../test/workshop.js';
import { planBoard } from '../plan-board.js';
import type { PlanInput } from '../plan-input.js';
import { chipLoadBand, FEED_TABLES } from './feed-tables.js';

const MATERIALS: readonly SheetMaterial[] = [
  'softwood plywood',
  'birch plywood',
  'fibreboard',
  'particleboard',
];

describe('chip load table', () => {
  it('gives the charts’ figures at their diameters: 0.009 to 0.011 in for 1/4 in in hardwood', () => {
    const [least, most] = chipLoadBand(FEED_TABLES, 'birch plywood', 6.35);
    expect(least).toBeCloseTo(0.2286, 6);
    expect(most).toBeCloseTo(0.2794, 6);
    expect(chipLoadBand(FEED_TABLES, 'fibreboard', 9.525)[1]).toBeCloseTo(0.023 * 25.4, 6);
  });

  it('rises with the diameter, lies between its rows, and ends with the outermost', () => {
    const diameter = fc.double({ min: 0.5, max: 30, noNaN: true });
    fc.assert(
      fc.property(diameter, diameter, fc.constantFrom(...MATERIALS), (a, b, material) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        const [x, y] = [low, high].map((d) => chipLoadBand(FEED_TABLES, material, d));
        expect(x![0]).toBeLessThanOrEqual(y![0] + 1e-12);
        expect(x![0]).toBeLessThanOrEqual(x![1]);
        expect(x![0]).toBeGreaterThanOrEqual(FEED_TABLES.chipLoads[0]!.bands[material][0] - 1e-12);
        expect(y![1]).toBeLessThanOrEqual(FEED_TABLES.chipLoads.at(-1)!.bands[material][1] + 1e-12);
      }),
    );
    expect(() => chipLoadBand({ ...FEED_TABLES, chipLoads: [] }, 'fibreboard', 6)).toThrow(RangeError);
  });
});

const saidOf = (change: Partial<PlanInput>): Map<string, string> => {
  const plan = planBoard(inputOf([partOf('A', rectangleRing(40, 40, 340, 240))], change));
  return new Map(plan.diagnostics.map((d) => [d.code, d.message]));
};

const router = (change: Partial<typeof ROUTER>) => ({ cutters: [{ ...ROUTER, ...change }] });

describe('speeds', () => {
  it('says nothing of a usual cutter', () => {
    expect([...saidOf({}).keys()].filter((c) => /chip|limited|power|bends/.test(c))).toEqual([]);
  });

  it.each([
    ['plan/rpm-beyond-machine', router({ rpm: 30_000 }), '24000'],
    // 3 × 0.15 × 18,000 = 8,100 mm/min on a machine of 6,000.
    ['plan/feed-beyond-machine', router({ flutes: 3 }), '8100 mm/min (3 flutes × 0.15 mm × 18000 rev/min)'],
    // Where the chip load is a table's, it is held to the machine's feed: chips of 6,000 / 54,000 = 0.111 mm.
    ['plan/feed-limited', { ...router({ flutes: 3 }), feedsFromTable: new Set([ROUTER.id]) }, '0.111 mm'],
    ['plan/chip-too-thin', router({ chipLoad: 0.04 }), '0.04 mm'],
    // The chart's most at 6 mm is 0.263 mm; the pass of 6.1 mm is hardly a diameter deep.
    ['plan/chip-too-thick', router({ chipLoad: 0.3, rpm: 9_000 }), '0.3 mm'],
    // A pass of 9.15 mm, one and a half diameters, takes an eighth off the 0.263 mm.
    [
      'plan/chip-too-thick',
      router({ chipLoad: 0.24, rpm: 9_000, depthPerPass: 12, fluteLength: 22 }),
      '0.24 mm',
    ],
    // 6.1 × 6 × 5,400 × 60 / 60,000 = 197.6 W.
    ['plan/too-much-power', { machine: { ...MACHINE, power: 150 } }, '198 W'],
    // 60 × 6.1 × 0.15 = 54.9 N on 4.8 mm over 40 mm: 54.9 · 64,000 / (3 · 600,000 · 26.06) = 0.075 mm.
    ['plan/cutter-bends', router({ fluteLength: 40 }), '0.075 mm'],
  ] as const)('%s, with the figure', (code, change, figure) => {
    expect(saidOf(change).get(code)).toContain(figure);
  });

  it.each([
    ['router', {}, 'Turn at 13333 rev/min or less, write a chip load of 0.111 mm or less'],
    ['drill', { kind: 'drill', diameter: 5 }, 'Turn at 13333 rev/min'],
  ] as const)(
    'refuses a feed of a %s that is asked for and the machine has not got, with the ways out',
    (kind, change, hint) => {
      const asked = { ...ROUTER, id: kind, flutes: 3, ...change };
      const hole = { id: 'A.h', centre: { x: 100, y: 100 }, diameter: 5, depth: 5, face: 'n+' } as const;
      const part = partOf('A', rectangleRing(40, 40, 340, 240), { holes: kind === 'drill' ? [hole] : [] });
      const cutters = kind === 'drill' ? [ROUTER, { ...asked, number: 2 }] : [asked];
      const plan = planBoard(inputOf([part], { cutters }));
      expect(plan.ok).toBe(false);
      const said = plan.diagnostics.find((d) => d.code === 'plan/feed-beyond-machine')!;
      expect(said).toMatchObject({
        level: 'error',
        locus: { part: 'A', feature: kind === 'drill' ? 'A.h' : 'A' },
      });
      expect(said.hint).toContain(hint);
    },
  );

  it('judges by the tables that are given, and by the material', () => {
    const tables = { ...FEED_TABLES, lightest: 1 };
    expect(saidOf({ tables }).has('plan/chip-too-thin')).toBe(true);
    const soft = saidOf({ material: 'softwood plywood', machine: { ...MACHINE, power: 150 } });
    expect(soft.has('plan/too-much-power')).toBe(false);
  });
});
