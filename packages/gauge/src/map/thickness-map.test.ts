import { rectangleRing } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EIGHT, mapOf, numbers, SHEET } from '../../test/measured-sheet.js';
import { standardNormal } from '../statistics/standard-normal.js';
import { checkLoad, loadLimit } from './check-load.js';
import { fitThicknessMap } from './fit-thickness-map.js';
import { inheritMap } from './inherit-map.js';
import { USUAL_REPEATABILITY, USUAL_SHEET } from './practice.js';
import { sheetLimits } from './sheet-standard.js';
import { thicknessInterval } from './thickness-interval.js';
import type { ThicknessReading } from './thickness-reading.js';

const codes = (readings: readonly ThicknessReading[], options = {}): string[] =>
  fitThicknessMap(readings, SHEET, options).diagnostics.map((d) => d.code);

describe('fitThicknessMap', () => {
  it('tells the readings’ mean for a sheet measured at one value, with less doubt for every reading more', () => {
    let last = Number.POSITIVE_INFINITY;
    for (const n of [1, 2, 4, 8]) {
      const map = mapOf(EIGHT.slice(0, n).map((at) => ({ thickness: 17.7, at })));
      const { thickness, u } = thicknessAt(map, { x: 1220, y: 610 });
      expect(thickness).toBeCloseTo(17.7, 6);
      expect(u).toBeLessThan(last);
      last = u;
    }
  });

  it('finds a slope: 17.6 on the left and 18.1 on the right', () => {
    const map = mapOf(EIGHT.map((at) => ({ thickness: 17.6 + (0.5 * at.x) / 2440, at })));
    expect(map.surface).toBe('plane');
    expect(thicknessAt(map, { x: 0, y: 610 }).thickness).toBeCloseTo(17.6, 1);
    expect(
      Math.abs(thicknessAt(map, { x: 2000, y: 300 }).thickness - (17.6 + (0.5 * 2000) / 2440)),
    ).toBeLessThan(0.015);
  });

  it('finds a bowl where interior readings show one, and says so', () => {
    const bowl = (at: { x: number; y: number }) =>
      18 - 0.15 * (((at.x - 1220) / 1220) ** 2 + ((at.y - 610) / 610) ** 2);
    const inner = [700, 1220, 1740].flatMap((x) => [350, 610, 870].map((y) => ({ x, y })));
    const map = mapOf([...EIGHT, ...inner].map((at) => ({ thickness: bowl(at), at })));
    expect(map.surface).toBe('curved');
    expect(thicknessAt(map, { x: 1000, y: 500 }).thickness).toBeCloseTo(bowl({ x: 1000, y: 500 }), 1);
  });

  it('does not depend on the order of the readings', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 17.6, max: 17.8, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (values) => {
          const readings = values.map((thickness, i) => ({ thickness, at: EIGHT[i]! }));
          const [a, b] = [mapOf(readings), mapOf([...readings].reverse())];
          for (const at of [
            { x: 100, y: 900 },
            { x: 1800, y: 300 },
          ]) {
            expect(thicknessAt(a, at).thickness).toBeCloseTo(thicknessAt(b, at).thickness, 9);
            expect(thicknessAt(a, at).u).toBeCloseTo(thicknessAt(b, at).u, 9);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('takes readings without a place for the mean alone, with a wider doubt', () => {
    const values = [17.92, 17.88, 17.95, 17.9, 17.93, 17.86, 17.91, 17.89];
    const map = mapOf(values.map((thickness) => ({ thickness })));
    expect(map.coefficients[0]).toBeCloseTo(17.905, 3);
    expect(map.coefficients.slice(1).every((c) => c === 0)).toBe(true);
    const placed = mapOf(values.map((thickness, i) => ({ thickness, at: EIGHT[i]! })));
    const middle = { x: 1220, y: 610 };
    expect(thicknessAt(map, middle).u).toBeGreaterThan(thicknessAt(placed, middle).u);
  });

  it('holds the thickness in its stated intervals as often as it says, on simulated sheets', {
    timeout: 60_000,
  }, () => {
    const runs = 2000;
    const normal = standardNormal(numbers(20));
    for (const count of [3, 8]) {
      const held = { half: 0, most: 0 };
      for (let run = 0; run < runs; run++) {
        const c = [18, ...[1, 1, 0.5, 0.5, 0.5].map((s) => s * USUAL_SHEET.slope * normal())];
        // A third of the sheets level, a third with a slope, a third curved: what the fit expects beforehand.
        const kind = run % 3;
        const local = USUAL_SHEET.local * Math.exp(USUAL_SHEET.localDoubt * normal());
        const truth = ({ x, y }: { x: number; y: number }) => {
          const [u, v] = [(x - 1220) / 1220, (y - 610) / 610];
          const slope = kind === 0 ? 0 : c[1]! * u + c[2]! * v;
          return (
            c[0]! + slope + (kind < 2 ? 0 : c[3]! * u * u + c[4]! * u * v + c[5]! * v * v) + local * normal()
          );
        };
        const places = count === 8 ? EIGHT : [EIGHT[0]!, EIGHT[2]!, EIGHT[5]!];
        const map = mapOf(
          places.map((at) => ({ thickness: truth(at) + USUAL_REPEATABILITY * normal(), at })),
        );
        const at = { x: 300 + ((run * 617) % 1800), y: 200 + ((run * 383) % 800) };
        const t = truth(at);
        const within = ([low, high]: readonly [number, number]) => t >= low && t <= high;
        if (within(thicknessInterval(map, at, 0.5))) held.half++;
        if (within(thicknessInterval(map, at, 0.95))) held.most++;
      }
      // Three standard errors of a share over 2,000 runs: 0.015 at 95 %, 0.034 at 50 %.
      expect(Math.abs(held.most / runs - 0.95)).toBeLessThan(0.015);
      expect(Math.abs(held.half / runs - 0.5)).toBeLessThan(0.034);
    }
  });
});

describe('readings that cannot be', () => {
  const good = EIGHT.map((at, i) => ({ thickness: 17.7 + 0.01 * (i % 3), at }));

  it('leaves out an outlying reading and names it with what was expected', () => {
    const said = fitThicknessMap([...good.slice(0, 7), { thickness: 18.15, at: EIGHT[7]! }], SHEET);
    expect(said.ok).toBe(true);
    const found = said.diagnostics.find((d) => d.code === 'gauge/outlying-reading');
    expect(found?.message).toContain('reading 8');
    expect(found?.locus.at).toEqual(EIGHT[7]);
    if (said.ok) expect(thicknessAt(said.value, EIGHT[7]!).thickness).toBeCloseTo(17.71, 1);
  });

  it('keeps a true slope’s ends, which are no outliers', () => {
    expect(codes(EIGHT.map((at) => ({ thickness: 17.6 + (0.2 * at.x) / 2440, at })))).toEqual([]);
  });

  it('refuses a slip of the point and guesses it', () => {
    const said = fitThicknessMap([...good.slice(0, 7), { thickness: 1.77, at: EIGHT[7]! }], SHEET);
    expect(said.ok).toBe(false);
    expect(said.diagnostics[0]?.code).toBe('gauge/impossible-reading');
    expect(said.diagnostics[0]?.hint).toContain('17.7 mm');
  });

  it('refuses inches among millimetres and guesses them', () => {
    const said = fitThicknessMap([...good.slice(0, 7), { thickness: 0.697, at: EIGHT[7]! }], SHEET);
    expect(said.diagnostics[0]?.hint).toContain('in inches');
  });

  it('refuses a slip even where most readings slipped alike, or where one stands alone, and guesses it', () => {
    for (const [reading, guess] of [
      [1.77, '17.7 mm'],
      [177, '17.7 mm'],
      [0.697, '17.704 mm (the reading in inches)'],
    ] as const) {
      const alone = fitThicknessMap([{ thickness: reading }], SHEET);
      expect(alone.diagnostics.map((d) => d.code)).toEqual(['gauge/impossible-reading']);
      expect(alone.diagnostics[0]?.hint).toContain(guess);
      const all = fitThicknessMap(
        EIGHT.map((at) => ({ thickness: reading, at })),
        SHEET,
      );
      expect(all.diagnostics[0]?.hint).toContain(guess);
    }
    // A pair: the one that is a sheet's thickness is believed, and the other is named.
    const pair = fitThicknessMap([{ thickness: 0.697 }, { thickness: 17.7 }], SHEET);
    expect(pair.diagnostics.map((d) => d.message)[0]).toContain('reading 1 is 0.697 mm');
    expect(pair.diagnostics[0]?.hint).toContain('in inches');
    // Half and half, either of which a sheet may have: nothing is guessed, both are named.
    const half = fitThicknessMap(
      [30, 30, 3, 3].map((thickness) => ({ thickness })),
      SHEET,
    );
    expect(half.diagnostics.map((d) => d.code)).toEqual(['gauge/readings-apart']);
    expect(half.diagnostics[0]?.message).toContain('readings 1, 2 (about 30 mm)');
  });

  it('takes a thin sheet where its label says so, and says of a single reading that nothing holds it', () => {
    expect(codes([{ thickness: 1.52 }], { nominal: 1.5 })).toEqual([]);
    expect(codes([{ thickness: 17.7 }])).toEqual(['gauge/unheld-reading']);
    expect(codes([{ thickness: 1.77 }], { nominal: 18 })).toEqual(['gauge/impossible-reading']);
  });

  it('refuses a place beside the board, and a board without readings', () => {
    expect(codes([{ thickness: 17.7, at: { x: 2600, y: 100 } }])).toEqual(['gauge/reading-off-board']);
    expect(codes([])).toEqual(['gauge/no-readings']);
  });

  it('asks whether places are in inches where all lie in a corner that inches would fill, and only there', () => {
    const inches = [
      { x: 2, y: 1.97 },
      { x: 94, y: 2 },
      { x: 48, y: 46 },
    ];
    const read = (places: readonly { x: number; y: number }[]) =>
      codes(places.map((at) => ({ thickness: 17.7, at })));
    expect(read(inches)).toEqual(['gauge/places-in-corner']);
    expect(read(EIGHT.map((p) => ({ x: p.x / 25.4, y: p.y / 25.4 })))).toEqual(['gauge/places-in-corner']);
    expect(read(EIGHT)).toEqual([]);
    expect(read([...inches, { x: 50, y: 60 }])).toEqual([]);
  });

  it('warns of a wide spread', () => {
    expect(codes(EIGHT.map((at) => ({ thickness: 17.6 + (0.5 * at.x) / 2440, at })))).toContain(
      'gauge/wide-spread',
    );
  });

  it('asks for the places of readings far apart only where one is missing', () => {
    const hint = (readings: readonly ThicknessReading[]) =>
      fitThicknessMap(readings, SHEET).diagnostics.find((d) => d.code === 'gauge/wide-spread')?.hint;
    const placed = EIGHT.map((at) => ({ thickness: 17.6 + (0.5 * at.x) / 2440, at }));
    expect(hint(placed)).not.toContain('Note the place');
    expect(
      hint(placed.map(({ at, thickness }, i) => (i === 0 ? { thickness } : { at, thickness }))),
    ).toContain('Note the place');
  });

  it('refuses a sheet outside its standard (EN 315: 18 mm sanded measures 17.06 to 18.74)', () => {
    const limits = sheetLimits('EN 315 sanded', 18);
    expect(limits.least).toBeCloseTo(17.06, 9);
    expect(limits.most).toBeCloseTo(18.74, 9);
    const thin = good.map((r) => ({ ...r, thickness: r.thickness - 0.75 }));
    expect(codes(thin, { nominal: 18, standard: 'EN 315 sanded' })).toContain('gauge/outside-standard');
    expect(codes(good, { nominal: 18, standard: 'EN 315 sanded' })).toEqual([]);
    const uneven = EIGHT.map((at) => ({ thickness: 17.5 + (0.7 * at.x) / 2440, at }));
    expect(codes(uneven, { nominal: 18, standard: 'EN 315 sanded' })).toContain('gauge/outside-standard');
    // PS 1: 3/4 in sanded 0.734375 to 0.765625 in.
    expect(sheetLimits('PS 1 sanded', 19.05).least).toBeCloseTo(0.734375 * 25.4, 9);
  });
});

describe('inheritMap', () => {
  it('gives an off-cut the thickness that its place had in the parent, turned and turned over at will', () => {
    const map = mapOf(
      EIGHT.map((at) => ({ thickness: 17.6 + (0.4 * at.x) / 2440 - (0.1 * at.y) / 1220, at })),
    );
    const coordinate = fc.double({ min: 0, max: 800, noNaN: true });
    const motion = fc.record({
      turnedOver: fc.boolean(),
      turn: fc.double({ min: -4, max: 4, noNaN: true }),
      x: coordinate,
      y: coordinate,
    });
    fc.assert(
      fc.property(motion, motion, coordinate, coordinate, (first, second, x, y) => {
        const carry = (m: typeof first, p: { x: number; y: number }) => {
          const px = m.turnedOver ? -p.x : p.x;
          return {
            x: Math.cos(m.turn) * px - Math.sin(m.turn) * p.y + m.x,
            y: Math.sin(m.turn) * px + Math.cos(m.turn) * p.y + m.y,
          };
        };
        const child = inheritMap(inheritMap(map, first), second);
        const inParent = carry(first, carry(second, { x, y }));
        expect(thicknessAt(child, { x, y }).thickness).toBeCloseTo(thicknessAt(map, inParent).thickness, 9);
      }),
    );
  });
});

describe('checkLoad', () => {
  const map = mapOf(EIGHT.map((at) => ({ thickness: 17.7, at })));

  it('goes within a tenth, stops beyond, and names both figures', () => {
    expect(checkLoad(map, { thickness: 17.8, at: EIGHT[0]! }).ok).toBe(true);
    const stop = checkLoad(map, { thickness: 17.83, at: EIGHT[0]! });
    expect(stop.ok).toBe(false);
    expect(stop.diagnostics[0]?.message).toContain('17.83 mm');
    expect(stop.diagnostics[0]?.message).toContain('17.7 mm');
  });

  const sloped = mapOf(EIGHT.map((at) => ({ thickness: 17.6 + (0.5 * at.x) / 2440, at })));

  it('asks for a place where any thickness would be right somewhere on the sheet, and for none on an even one', () => {
    for (const thickness of [17.65, 17.85, 18.05])
      expect(checkLoad(sloped, { thickness }).diagnostics.map((d) => d.code)).toEqual([
        'gauge/load-needs-place',
      ]);
    expect(checkLoad(sloped, { thickness: 18.05, at: { x: 2390, y: 610 } }).ok).toBe(true);
    expect(checkLoad(map, { thickness: 17.71 }).ok).toBe(true);
  });

  it('names a slip of the point or an inch, and what may have been meant', () => {
    for (const [thickness, meant] of [
      [177, '17.7 mm'],
      [1.77, '17.7 mm'],
      [0.697, '17.704 mm (the reading in inches)'],
    ] as const)
      expect(checkLoad(map, { thickness, at: EIGHT[0]! }).diagnostics[0]?.hint).toContain(`Perhaps ${meant}`);
    expect(checkLoad(sloped, { thickness: 178 }).diagnostics[0]?.code).toBe('gauge/not-this-board');
    expect(checkLoad(map, { thickness: 18.2, at: EIGHT[0]! }).diagnostics[0]?.hint).not.toContain('Perhaps');
  });

  it('looks without a place only at the board that is there: an even end of a sloped sheet needs none', () => {
    const strip = { outline: rectangleRing(0, 0, 200, 600) };
    const there = checkLoad(
      inheritMap(sloped, { turnedOver: false, turn: 0, x: 2200, y: 0 }),
      { thickness: 18.07 },
      strip,
    );
    expect(there.ok && there.value.expected).toBeCloseTo(17.6 + (0.5 * 2300) / 2440, 1);
  });

  it('is never narrower than what the map itself says nineteen times in twenty, and lets no more through', () => {
    const at = { x: 600, y: 150 };
    const one = mapOf([{ thickness: 17.3 }]);
    const [low, high] = thicknessInterval(one, at);
    expect(high - low).toBeGreaterThan(0.2);
    for (const thickness of [low + 0.001, high - 0.001])
      expect(checkLoad(one, { thickness, at }).ok).toBe(true);
    for (const thickness of [low - 0.01, high + 0.01])
      expect(checkLoad(one, { thickness, at }).ok).toBe(false);
    // Eight readings leave little doubt: a tenth stays the least that stops.
    expect(loadLimit(map, { x: 1220, y: 610 })).toBe(0.1);
  });
});
