import {
  intersectRings,
  type Region,
  type Ring,
  rectangleRing,
  regionArea,
  reverseRing,
  ringArea,
  subtractRings,
  unionRings,
} from '@haunch/geometry';
import type { MasterMate, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dryAssemble } from '../dryfit/dry-assemble.js';
import type { DryPiece } from '../dryfit/dry-piece.js';
import { interferenceOf } from '../dryfit/interference.js';
import { pairOf } from '../dryfit/pair.js';
import { movedSolid, type Solid, solidOf } from '../dryfit/solid.js';
import type { Vec } from '../frame.js';
import type { BuilderRelief, BuiltJoint, BuiltSide } from './built-joint.js';
import { type JointDirection, mateOfJoint } from './built-mate.js';
import { crossLap, halfNotch } from './cross-lap.js';
import { fingerRun } from './finger-run.js';
import { housing } from './housing.js';
import { mortise } from './mortise.js';

/** A plate of a blank and what a builder does to it, moved by (dx, dy) first. */
function plate(id: string, blank: Ring, side: BuiltSide, t: number, dx = 0, dy = 0): Part {
  const at = (r: Ring): Ring => ({ vertices: r.vertices.map((v) => ({ ...v, x: v.x + dx, y: v.y + dy })) });
  const [whole] = unionRings([blank, ...side.add.map(at)]);
  const [region] = subtractRings([whole!.outer], side.cut.map(at)) as [Region];
  const contour = (name: string, ring: Ring) => ({ id: name, ring, bare: ring, reliefs: [] });
  return {
    kind: 'part',
    id,
    name: id,
    thickness: t,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contour(`${id}.outline`, region.outer),
    through: region.holes.map((h, i) => contour(`${id}.h${i}`, reverseRing(h))),
    pockets: side.recess.map((r, i) => ({
      ...contour(`${id}.p${i}`, at(r.ring)),
      face: 'n+' as const,
      depth: r.depth,
    })),
    holes: [],
    from: [],
  };
}
const X: Vec = [1, 0, 0];
const Y: Vec = [0, 1, 0];
const Z: Vec = [0, 0, 1];
const solid = (p: Part, origin: Vec, u: Vec, v: Vec, n: Vec): Solid =>
  solidOf(p, { origin, u, v, n }, p.thickness!);
const shared = (a: Solid, b: Solid): number => interferenceOf(pairOf(a, b));
const RELIEF: BuilderRelief = { radius: 3, surplus: 0.1, form: 'diagonal' };
const thick = fc.double({ min: 9, max: 25, noNaN: true });
const clear = fc.constantFrom(0, 0.1, 0.25);

describe('built joints, put together', () => {
  it('mortise and tenon: no interference as built, and the wanted clearance to either side', () => {
    fc.assert(
      fc.property(thick, thick, clear, fc.constantFrom(null, RELIEF), (t, e, c, relief) => {
        const j = mortise({ thickness: [t, e], width: 60, clearance: c, ends: 0.2, relief });
        const flat = solid(plate('A', rectangleRing(-100, -80, 100, 80), j.slot, t), [0, 0, 0], X, Y, Z);
        // Stands on the plate, its tenon pointing down: x along X, y down from the shoulder at the plate's upper face.
        const up = solid(
          plate('B', rectangleRing(-100, -90, 100, 0), j.entering, e),
          [0, -e / 2, t],
          X,
          [0, 0, -1],
          Y,
        );
        expect(shared(flat, up)).toBe(0);
        for (const [d, room] of [
          [Y, c / 2],
          [X, 0.1],
        ] as const)
          for (const way of [1, -1]) {
            const by = (mm: number): Vec => [way * mm * d[0], way * mm * d[1], way * mm * d[2]];
            if (room > 0) expect(shared(flat, movedSolid(up, by(room - 0.005)))).toBe(0);
            expect(shared(flat, movedSolid(up, by(room + 0.05)))).toBeGreaterThan(0);
          }
        // Withdrawing is free.
        expect(shared(flat, movedSolid(up, [0, 0, 30]))).toBe(0);
      }),
      { numRuns: 25 },
    );
  });

  it('stands proud as far as asked, and flush when nothing is said', () => {
    const tenon = (proud?: number) =>
      mortise({
        thickness: [18, 12],
        width: 40,
        ...(proud === undefined ? {} : { proud }),
      }).entering.add[0]!.vertices.map((v) => v.y);
    expect(Math.max(...tenon())).toBe(18);
    expect(Math.max(...tenon(6))).toBe(24);
  });

  it('cross-lap: seats with the gap asked for, slides out along the crossing, is caught across it', () => {
    fc.assert(
      fc.property(thick, thick, clear, fc.double({ min: 0.2, max: 0.8, noNaN: true }), (a, b, c, share) => {
        const j = crossLap({
          thickness: [a, b],
          overlap: 120,
          share,
          clearance: c,
          seat: 0.1,
          relief: RELIEF,
        });
        // Lower plate in X–Z, upper in Y–Z, both from z = 0 to 120; the slots' middles on the Z axis.
        const lower = solid(
          plate('A', rectangleRing(-90, 0, 90, 120), j.slot, a),
          [0, a / 2, 0],
          X,
          Z,
          [0, -1, 0],
        );
        const upper = solid(
          plate('B', rectangleRing(-90, 0, 90, 120), j.entering, b),
          [-b / 2, 0, 0],
          Y,
          Z,
          X,
        );
        expect(shared(lower, upper)).toBe(0);
        expect(shared(lower, movedSolid(upper, [0, 0, -0.09]))).toBe(0);
        expect(shared(lower, movedSolid(upper, [0, 0, -0.2]))).toBeGreaterThan(0);
        expect(shared(lower, movedSolid(upper, [0, 0, 50]))).toBe(0);
        expect(shared(lower, movedSolid(upper, [c / 2 + 0.05, 0, 0]))).toBeGreaterThan(0);
        expect(shared(lower, movedSolid(upper, [0, c / 2 + 0.05, 0]))).toBeGreaterThan(0);
      }),
      { numRuns: 25 },
    );
  });

  it('housing: takes the edge to its floor and no further, stopped or through', () => {
    for (const stopped of [true, false]) {
      const j = housing({
        thickness: [18, 12],
        depth: 8,
        length: 160,
        stopped,
        clearance: 0.1,
        ends: 0.2,
        seat: 0.1,
        relief: RELIEF,
      });
      const flat = solid(plate('A', rectangleRing(-80, -60, 80, 60), j.slot, 18), [0, 0, 0], X, Y, Z);
      const wide = stopped ? 150 : 160;
      const k = housing({
        thickness: [18, 12],
        depth: 8,
        length: wide,
        stopped,
        clearance: 0.1,
        ends: 0.2,
        seat: 0.1,
      });
      const up = solid(
        plate('B', rectangleRing(-wide / 2, -90, wide / 2, 0), k.entering, 12),
        [0, -6, 18],
        X,
        [0, 0, -1],
        Y,
      );
      expect(shared(flat, up)).toBe(0);
      expect(shared(flat, movedSolid(up, [0, 0, -0.2]))).toBeGreaterThan(0);
      expect(shared(flat, movedSolid(up, [0, 0.1, 0]))).toBeGreaterThan(0);
    }
    expect(() => housing({ thickness: [18, 12], depth: 18, length: 10 })).toThrow(/deep/);
  });

  it('finger run: two plates make a corner without gap or overlap', () => {
    fc.assert(
      fc.property(thick, thick, fc.constantFrom(3, 5, 9), clear, (a, b, count, ends) => {
        const j = fingerRun({ thickness: [a, b], length: 200, count, ends });
        // Outer plate lies in X–Y, its edge along X at y = 0; the inner stands on that edge, its outer face in y = 0.
        const flat = solid(plate('A', rectangleRing(0, 0, 200, 100), j.slot, a), [0, 0, 0], X, Y, Z);
        const up = solid(
          plate('B', rectangleRing(0, 0, 200, 100), j.entering, b),
          [0, b, 0],
          X,
          Z,
          [0, -1, 0],
        );
        expect(shared(flat, up)).toBe(0);
        expect(shared(flat, movedSolid(up, [ends / 2 + 0.05, 0, 0]))).toBeGreaterThan(0);
        // With no clearance nothing of the corner's bar is left open: both fill it.
        if (ends === 0) {
          const bar = a * b * 200;
          const inBar = (p: Part, depth: number) =>
            intersectRings([p.outline.ring], [rectangleRing(0, 0, 200, depth)]).reduce(
              (s, r) => s + regionArea(r),
              0,
            );
          const filled =
            inBar(plate('A', rectangleRing(0, 0, 200, 100), j.slot, a), b) * a +
            inBar(plate('B', rectangleRing(0, 0, 200, 100), j.entering, b), a) * b;
          // Corners lie on the grid of 0.0001 mm, which is a hundred-thousandth of 9 mm.
          expect(filled / bar).toBeCloseTo(1, 4);
        }
      }),
      { numRuns: 20 },
    );
    expect(() => fingerRun({ thickness: [18, 18], length: 100, count: 4 })).toThrow(/odd/);
  });

  it('relieves inside corners so that the void still holds the sharp rectangle', () => {
    const sharp = mortise({ thickness: [18, 12], width: 60, clearance: 0.1, ends: 0.2 }).slot.cut[0]!;
    const relieved = mortise({ thickness: [18, 12], width: 60, clearance: 0.1, ends: 0.2, relief: RELIEF })
      .slot.cut[0]!;
    const common = intersectRings([sharp], [relieved]).reduce((s, r) => s + regionArea(r), 0);
    expect(common).toBeCloseTo(ringArea(sharp), 6);
    expect(ringArea(relieved)).toBeGreaterThan(ringArea(sharp));
    expect(() => mortise({ thickness: [18, 4], width: 4, relief: RELIEF })).toThrow(RangeError);
  });
});

describe('the mate of a built joint', () => {
  /** Each joint without clearance, its plates, and where they stand. */
  const t = [18, 12] as const;
  const given = (v: Vec): [number, number, number] => [...v];
  const frame = (origin: Vec, u: Vec, v: Vec, n: Vec) => ({
    origin: given(origin),
    u: given(u),
    v: given(v),
    n: given(n),
  });
  const back = (v: Vec): Vec => [-v[0], -v[1], -v[2]];
  const flat = (blank: Ring, j: BuiltJoint) => ({
    part: plate('A', blank, j.slot, t[0]),
    frame: frame([0, 0, 0], X, Y, Z),
  });
  const stands = (blank: Ring, j: BuiltJoint) => ({
    part: plate('B', blank, j.entering, t[1]),
    frame: frame([0, -t[1] / 2, t[0]], X, back(Z), Y),
  });
  const lap = crossLap({ thickness: t, overlap: 120 });
  const run = fingerRun({ thickness: t, length: 200, count: 5 });
  const tenon = mortise({ thickness: t, width: 60 });
  const stopped = housing({ thickness: t, depth: 8, length: 160 });
  const through = housing({ thickness: t, depth: 8, length: 160, stopped: false });
  const upright = rectangleRing(-90, 0, 90, 120);
  const PIECES: readonly [BuiltJoint, Vec, Vec, DryPiece['parts']][] = [
    [
      tenon,
      X,
      Y,
      [flat(rectangleRing(-100, -80, 100, 80), tenon), stands(rectangleRing(-100, -90, 100, 0), tenon)],
    ],
    [
      stopped,
      X,
      Y,
      [flat(rectangleRing(-100, -60, 100, 60), stopped), stands(rectangleRing(-80, -90, 80, 0), stopped)],
    ],
    [
      through,
      X,
      Y,
      [flat(rectangleRing(-80, -60, 80, 60), through), stands(rectangleRing(-80, -90, 80, 0), through)],
    ],
    [
      lap,
      X,
      Z,
      [
        { part: plate('A', upright, lap.slot, t[0]), frame: frame([0, t[0] / 2, 0], X, Z, back(Y)) },
        { part: plate('B', upright, lap.entering, t[1]), frame: frame([-t[1] / 2, 0, 0], Y, Z, X) },
      ],
    ],
    [
      run,
      X,
      Y,
      [
        flat(rectangleRing(0, 0, 200, 100), run),
        {
          part: plate('B', rectangleRing(0, 0, 200, 100), run.entering, t[1]),
          frame: frame([0, t[1], 0], X, Z, back(Y)),
        },
      ],
    ],
  ];
  const mateOf = (j: BuiltJoint, x: Vec, y: Vec, parts: DryPiece['parts']): MasterMate =>
    mateOfJoint(j, {
      id: 'J',
      slotPart: 'A',
      slotFeatures: [[...parts[0]!.part.through, ...parts[0]!.part.pockets][0]?.id ?? 'A.outline'],
      enteringPart: 'B',
      x,
      y,
    });

  it.each(PIECES.map(([j, ...rest]) => [j.type, j, ...rest] as const))(
    '%s: what it says holds does hold, and it goes in',
    (_, j, x, y, parts) => {
      const mate = mateOf(j, x, y, parts);
      const done = dryAssemble({ parts, mates: [mate] });
      expect(done.diagnostics).toEqual([]);
      const [joint] = done.ok ? done.value.joints : [];
      expect(joint!.withdraws).toBeNull();
      expect(done.ok && done.value.plan!.steps.length).toBe(1);
      // Each direction is held at once; the way back is free.
      for (const { directions } of joint!.places)
        for (const d of directions) if (d.located) expect(d.clearance).toBeLessThanOrEqual(0.001);
    },
  );

  it('is caught where it says that something holds which does not', () => {
    for (const [j, x, y, parts] of PIECES) {
      const mate = mateOf(j, x, y, parts);
      const out = mateOf({ ...j, mate: { ...j.mate, stopsOn: opposite(j.mate.enteringMoves) } }, x, y, parts)
        .stopsOn!;
      const done = dryAssemble({ parts, mates: [{ ...mate, locates: [...mate.locates, out] }] });
      expect(done.ok).toBe(false);
    }
  });

  it('follows the directions in which the joint stands, and refuses such as are none', () => {
    const joined = { id: 'J', slotPart: 'A', slotFeatures: ['A.h0'], enteringPart: 'B' };
    const turned = mateOfJoint(tenon, { ...joined, x: Z, y: X });
    expect([turned.enteringMoves, turned.locates, turned.stopsOn]).toEqual([
      '-Y',
      ['+Z', '-Z', '+X', '-X'],
      '-Y',
    ]);
    expect(() => mateOfJoint(tenon, { ...joined, x: X, y: [1, 1, 0] })).toThrow(/y is no unit vector/);
    expect(() => mateOfJoint(tenon, { ...joined, x: X, y: X })).toThrow(/right angles/);
    expect(() => mateOfJoint(tenon, { ...joined, enteringPart: 'A', x: X, y: Y })).toThrow(/itself/);
  });
});

const opposite = (d: JointDirection): JointDirection =>
  `${d[0] === '+' ? '-' : '+'}${d[1]!}` as JointDirection;

describe('what builders are given', () => {
  const builders = { crossLap, halfNotch, mortise, housing, fingerRun };
  const right = {
    crossLap: { thickness: [18, 12], overlap: 120 },
    halfNotch: { thickness: [18, 12], overlap: 60 },
    mortise: { thickness: [18, 12], width: 60 },
    housing: { thickness: [18, 12], depth: 8, length: 160 },
    fingerRun: { thickness: [18, 12], length: 200, count: 5 },
  } as const;
  const names = Object.keys(builders) as (keyof typeof builders)[];
  const build = (name: keyof typeof builders, options: unknown) => (): BuiltJoint =>
    (builders[name] as (o: unknown) => BuiltJoint)(options);

  it.each(names)('%s puts every corner on the grid, whatever the figures end in', (name) => {
    const odd = {
      thickness: [17.4444444, 11.777777777],
      clearance: 0.1111111,
      ends: 0.0777777,
      relief: RELIEF,
    };
    const takes = (key: string): boolean => {
      try {
        build(name, { ...right[name], [key]: odd[key as keyof typeof odd] })();
        return true;
      } catch (e) {
        if (e instanceof TypeError) return false;
        throw e;
      }
    };
    const used = Object.fromEntries(Object.entries(odd).filter(([key]) => takes(key)));
    const j = build(name, { ...right[name], ...used })();
    const rings = [j.slot, j.entering].flatMap((s) => [...s.add, ...s.cut, ...s.recess.map((r) => r.ring)]);
    for (const v of rings.flatMap((r) => r.vertices))
      for (const c of [v.x, v.y]) expect(Math.abs(c * 1e4 - Math.round(c * 1e4))).toBeLessThan(1e-6);
  });

  it.each(names)('%s names what is missing, unknown or wrong', (name) => {
    expect(build(name, undefined)).toThrow(
      new TypeError(`${name}: its options are undefined; an object is wanted`),
    );
    expect(build(name, {})).toThrow(new TypeError(`${name}: the option thickness is missing`));
    expect(build(name, { ...right[name], clearence: 0.1 })).toThrow(
      /there is no option 'clearence'; it takes thickness, /,
    );
    for (const [key, value, words] of [
      ['thickness', 18, /thickness is 18; the thicknesses of both plates/],
      ['thickness', [18], /thickness is \[18\]/],
      ['thickness', [18, -1], /thickness is \[18,-1\]/],
      ['thickness', [18, Number.NaN], /thickness is/],
      ['relief', 3, /relief is 3/],
      ['relief', { radius: 0, surplus: 0.1, form: 'diagonal' }, /relief has a radius of 0/],
      ['relief', { radius: 3, surplus: 0.1, form: 'round' }, /relief has the form 'round'/],
    ] as const)
      expect(build(name, { ...right[name], [key]: value })).toThrow(words);
    for (const key of Object.keys(right[name]).filter((k) => k !== 'thickness'))
      for (const value of [0, -3, Number.NaN, Number.POSITIVE_INFINITY, '60', null])
        expect(build(name, { ...right[name], [key]: value })).toThrow(new RegExp(`${name}: ${key} is `));
  });

  it.each([
    ['crossLap', { clearance: -12.5 }, /crossLap: nothing is left between/],
    ['crossLap', { share: 1 }, /share 1/],
    ['crossLap', { seat: 120 }, /seat of 120 mm/],
    ['mortise', { proud: -18 }, /no length/],
    ['mortise', { clearance: '0.1' }, /clearance is '0.1'; a figure is wanted/],
    ['housing', { seat: 10 }, /18 mm deep/],
    ['housing', { stopped: 'yes' }, /stopped is 'yes'/],
    ['fingerRun', { count: 4 }, /odd/],
    ['fingerRun', { ends: 40 }, /40 mm of clearance in fingers of 40 mm/],
    ['fingerRun', { relief: { radius: 30, surplus: 0.1, form: 'diagonal' } }, /relief/],
  ] as const)('%s refuses %j', (name, wrong, words) => {
    expect(build(name, { ...right[name], ...wrong })).toThrow(words);
    expect(build(name, { ...right[name], ...wrong })).toThrow(RangeError);
  });
});
