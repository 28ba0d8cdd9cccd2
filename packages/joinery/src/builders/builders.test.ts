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
import type { Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { interferenceOf } from '../dryfit/interference.js';
import { pairOf } from '../dryfit/pair.js';
import { movedSolid, type Solid, solidOf } from '../dryfit/solid.js';
import type { Vec } from '../frame.js';
import type { BuilderRelief, BuiltSide } from './built-joint.js';
import { crossLap } from './cross-lap.js';
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
          expect(filled / bar).toBeCloseTo(1, 6);
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
