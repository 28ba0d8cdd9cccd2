import type { Master, Part } from '@haunch/model';
import fc from 'fast-check';
import Module from 'manifold-3d';
import { describe, expect, it } from 'vitest';
import { frameOf } from '../src/frame.js';
import {
  defaultAllowances,
  dryAssemble,
  findJoints,
  fitParts,
  formatMaster,
  jointGaps,
  readMaster,
  refitMaster,
} from '../src/index.js';
import { type Spoilable, valueIn } from './demo.js';
import { type Leaning, leaningPiece, slotFor } from './leaning-piece.js';

const wasm = await Module();
wasm.setup();
const DEGREES = Math.PI / 180;
const WIDE = 400;

/** The common volume of a plate and a slab that passes its slot at an angle, by an independent solid kernel. mm³ */
function collision({ angle, slotted, passing }: Leaning, width: number): number {
  const made: { delete(): void }[] = [];
  const keep = <T extends { delete(): void }>(x: T): T => {
    made.push(x);
    return x;
  };
  // The plate about its own middle with a slot right through; the slab turned about the same place.
  const plate = keep(
    keep(wasm.Manifold.cube([WIDE, 100, slotted], true)).subtract(
      keep(wasm.Manifold.cube([width, 100.5, slotted + 1], true)),
    ),
  );
  const slab = keep(
    keep(wasm.Manifold.cube([passing, 100, WIDE], true)).rotate([0, 90 - angle / DEGREES, 0]),
  );
  const volume = keep(plate.intersect(slab)).volume();
  for (const x of made) x.delete();
  return volume;
}

/** The common volume of two plates of a master, cut as `parts` and standing where the master has them, by that kernel. mm³ */
function standingCollision(master: Master, parts: readonly Part[]): number {
  const made: { delete(): void }[] = [];
  const keep = <T extends { delete(): void }>(x: T): T => {
    made.push(x);
    return x;
  };
  const [a, b] = parts.map((p, i) => {
    const { origin, u, v, n } = frameOf(master.parts[i]!);
    const section = (c: Part['outline']) =>
      keep(wasm.CrossSection.ofPolygons([c.bare.vertices.map(({ x, y }): [number, number] => [x, y])]));
    const cut = p.through.reduce((rest, c) => keep(rest.subtract(section(c))), section(p.outline));
    const solid = keep(cut.extrude(p.thickness!));
    return keep(solid.transform([...u, 0, ...v, 0, ...n, 0, ...origin, 1] as never));
  });
  const volume = keep(a!.intersect(b!)).volume();
  for (const x of made) x.delete();
  return volume;
}

const angles = [40, 60, 75, 80, 85, 100, 120, 139].map((d) => d * DEGREES);
const sizes = [
  [18, 18],
  [15, 9],
  [6.3, 17.4],
  [24.1, 11.7],
] as const;
const cases = angles.flatMap((angle) =>
  sizes.map(([slotted, passing]): Leaning => ({ angle, slotted, passing })),
);
const leaning = fc
  .record({
    angle: fc.integer({ min: 30, max: 150 }).filter((d) => Math.abs(d - 90) > 1),
    slotted: fc.integer({ min: 900, max: 2500 }),
    passing: fc.integer({ min: 900, max: 2500 }),
  })
  .map(
    ({ angle, slotted, passing }): Leaning => ({
      angle: angle * DEGREES,
      slotted: slotted / 100,
      passing: passing / 100,
    }),
  );
const allowances = defaultAllowances('snug');
const refitted = (l: Leaning, [U, S]: readonly [number, number]) =>
  refitMaster(valueIn(readMaster(formatMaster(leaningPiece(l)))), { thicknesses: { U: U!, S: S! } });

describe('a slot for a plate that leans', () => {
  it('is t2/sin θ + t1/|tan θ| wide, as a solid kernel finds: that wide it passes, 0.05 narrower it collides', () => {
    for (const c of cases) {
      expect(collision(c, slotFor(c) + 1e-4)).toBe(0);
      expect(collision(c, slotFor(c) - 0.05)).toBeGreaterThan(1e-3);
      expect(collision(c, c.passing / Math.sin(c.angle))).toBeGreaterThan(1);
    }
  });

  it('is drawn so by its marks, without common volume, at any angle and thicknesses', () => {
    fc.assert(
      fc.property(leaning, leaning, (was, is) => {
        const wanted = { ...is, angle: was.angle };
        const master = valueIn(refitted(was, [is.slotted, is.passing]));
        const slot = master.parts[0]!.through[0]!.loop;
        expect(Math.abs(slot.segments[0]!.to[0] - slot.start[0] - slotFor(wanted))).toBeLessThan(3e-4);
        const done = valueIn(dryAssemble(master, { order: false }));
        expect(done.interference.total).toBe(0);
        expect(done.joints[0]!.withdraws).toBeNull();
      }),
      { numRuns: 40 },
    );
  });

  it('is found by its arrises: two walls, two ends, and shoulders that bear along a line', () => {
    for (const c of cases) {
      const { joints, contacts } = valueIn(findJoints(leaningPiece(c), allowances));
      expect(joints[0]!.fits.map((f) => [f.kind, f.walls])).toEqual([
        ['thickness', ['U.m1/e1', 'U.m1/e3']],
        ['ends', ['U.m1/e0', 'U.m1/e2']],
      ]);
      const [thickness, ends] = joints[0]!.fits;
      expect(Math.sin(thickness!.lean!.angle)).toBeCloseTo(Math.sin(c.angle), 9);
      expect(thickness!.lean!.height).toBe(c.slotted);
      expect(ends!.lean).toBeUndefined();
      const shoulders = contacts.filter((k) => k.role === 'shoulder');
      expect(shoulders.map((k) => [k.edge, k.stretch.map((x) => Math.round(x * 1e3) / 1e3)])).toEqual([
        ['S.outline/e1', [0, 40]],
        ['S.outline/e5', [0, 40]],
      ]);
    }
  });

  it('gets its clearance square to the plate that passes, whatever is asked', () => {
    fc.assert(
      fc.property(leaning, fc.integer({ min: -5, max: 40 }), (c, hundredths) => {
        const wanted = hundredths / 100;
        const master = leaningPiece(c);
        const joinery = valueIn(findJoints(master, defaultAllowances('snug', wanted)));
        const parts = valueIn(fitParts(master, joinery, { relief: null }));
        const gaps = jointGaps(master, parts, joinery);
        expect(gaps.map((g) => g.fit)).toEqual(['M-U-S:U.m1:thickness', 'M-U-S:U.m1:ends']);
        expect(Math.abs(gaps[0]!.total - wanted)).toBeLessThan(5e-4);
        expect(Math.abs(gaps[0]!.gaps[0]! - gaps[0]!.gaps[1]!)).toBeLessThan(5e-4);
        expect(Math.abs(gaps[1]!.total - 0.2)).toBeLessThan(5e-4);
        const xs = parts[0]!.through[0]!.bare.vertices.map((v) => v.x);
        const width = Math.max(...xs) - Math.min(...xs);
        expect(Math.abs(width - slotFor(c) - wanted / Math.sin(c.angle))).toBeLessThan(3e-4);
        if (wanted > 0.001) expect(collision(c, width)).toBe(0);
      }),
      { numRuns: 60 },
    );
  });

  it('lets the refitted plates pass as a solid kernel stands them up, and grips them where less than nothing is asked', () => {
    fc.assert(
      fc.property(leaning, leaning, (was, is) => {
        const master = valueIn(refitted(was, [is.slotted, is.passing]));
        const volume = (clearance: number): number => {
          const joinery = valueIn(findJoints(master, defaultAllowances('snug', clearance)));
          return standingCollision(master, valueIn(fitParts(master, joinery, { relief: null })));
        };
        // Shoulders bear: on the grid of 0.0001 mm they may sink in by that much along a line.
        expect(volume(0.05)).toBeLessThan(1e-3);
        expect(volume(-0.05)).toBeGreaterThan(1e-2);
      }),
      { numRuns: 40 },
    );
  });

  it('stays as it is at the same thicknesses, and comes back from others', () => {
    fc.assert(
      fc.property(leaning, leaning, (was, is) => {
        // On the drawing's grid to begin with.
        const drawn = valueIn(refitted(was, [was.slotted + 1, was.passing + 1]));
        const same = valueIn(refitMaster(drawn, { thicknesses: { U: was.slotted + 1, S: was.passing + 1 } }));
        expect(same).toBe(drawn);
        const there = valueIn(refitMaster(drawn, { thicknesses: { U: is.slotted, S: is.passing } }));
        const back = valueIn(refitMaster(there, { thicknesses: { U: was.slotted + 1, S: was.passing + 1 } }));
        const numbers = (m: typeof drawn) =>
          m.parts.flatMap((p) =>
            [p.outline, ...p.through.map((t) => t.loop)]
              .flatMap((l) => l.segments.flatMap((s) => [...s.to]))
              .concat(p.frame.origin),
          );
        numbers(drawn).forEach((v, i) => {
          expect(Math.abs(numbers(back)[i]! - v)).toBeLessThan(2.5e-4);
        });
      }),
      { numRuns: 40 },
    );
  });
});

describe('a wrong slot for a plate that leans', () => {
  const c: Leaning = { angle: 80 * DEGREES, slotted: 18, passing: 15 };
  const drawn = (wider: number) => leaningPiece({ ...c, wider });
  const careless = -18 / Math.tan(c.angle);

  it.each([-0.05, -0.1, careless])('is too narrow by %d: refused, with the width that it needs', (wider) => {
    const [said, ...others] = findJoints(drawn(wider), allowances).diagnostics;
    expect(others).toEqual([]);
    expect(said).toMatchObject({
      level: 'error',
      code: 'master/leaning-slot',
      locus: { joint: 'M-U-S', part: 'U', feature: 'U.m1' },
    });
    // 15/sin 80° + 18/tan 80° = 15.2314 + 3.1739.
    expect(said!.message).toContain("'S' passes at 80° and needs a slot 18.4053 mm wide");
    expect(said!.message).toContain(`${+(18.4053 + wider).toFixed(4)} mm wide`);
  });

  it.each([-0.05, -0.1, careless])('is too narrow by %d: the plates do not go together', (wider) => {
    const codes = dryAssemble(drawn(wider), { order: false }).diagnostics.map((d) => d.code);
    expect(codes).toEqual(['dryfit/narrow']);
  });

  it('is too wide: a warning where joints are looked for, loose where plates are put together', () => {
    const found = findJoints(drawn(0.1), allowances);
    expect(found.ok).toBe(true);
    expect(found.diagnostics.map((d) => [d.level, d.code])).toEqual([['warning', 'master/leaning-slot']]);
    expect(dryAssemble(drawn(0.1), { order: false }).diagnostics.map((d) => d.code)).toEqual([
      'dryfit/loose',
    ]);
  });

  it('is too wide on the side to which the shoulders would bear: loose all the same', () => {
    for (const degrees of [60, 80, 100, 125])
      for (const [side, by] of [
        ['low', -0.1],
        ['high', 0.1],
      ] as const) {
        const m = JSON.parse(
          JSON.stringify(leaningPiece({ ...c, angle: degrees * DEGREES })),
        ) as Spoilable<Master>;
        const loop = m.parts[0]!.through[0]!.loop;
        const xs = loop.segments.map((s) => s.to[0]);
        const at = side === 'low' ? Math.min(...xs) : Math.max(...xs);
        for (const p of [loop.start, ...loop.segments.map((s) => s.to)]) if (p[0] === at) p[0] += by;
        const said = dryAssemble(m, { order: false }).diagnostics;
        expect(said.map((d) => d.code)).toEqual(['dryfit/loose']);
        // 0.1 mm along the plate is 0.1 · sin θ square to the one that leans.
        expect(said[0]!.message).toContain(`${+(0.1 * Math.sin(degrees * DEGREES)).toFixed(4)} mm`);
      }
  });

  it('is told from a shoulder that is too low, and from a slot that stands beside the plate', () => {
    const low = JSON.parse(JSON.stringify(leaningPiece(c))) as Spoilable<Master>;
    const shoulder = low.parts[1]!.outline.segments;
    for (const k of [0, 1, 4, 5]) shoulder[k]!.to[0] -= 0.4;
    const said = dryAssemble(low, { order: false }).diagnostics;
    expect(said.map((d) => d.code)).toEqual(['dryfit/short']);
    expect(said[0]!.message).toContain('0.4 mm');
    const beside = JSON.parse(JSON.stringify(leaningPiece(c))) as Spoilable<Master>;
    const loop = beside.parts[0]!.through[0]!.loop;
    for (const p of [loop.start, ...loop.segments.map((s) => s.to)]) p[0] += 0.3;
    expect(dryAssemble(beside, { order: false }).diagnostics.map((d) => d.code)).toEqual(['dryfit/shifted']);
  });

  it('is nothing to say of the right one, at any angle', () => {
    for (const right of cases) expect(findJoints(leaningPiece(right), allowances).diagnostics).toEqual([]);
  });
});
