import { circleRing, type Point, polygonRing, type Ring, rectangleRing } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import fc from 'fast-check';
import Module from 'manifold-3d';
import { describe, expect, it } from 'vitest';
import type { Frame, Vec } from '../frame.js';
import { cross } from '../frame.js';
import { interferenceOf } from './interference.js';
import { pairOf } from './pair.js';
import { movedSolid, type Solid, solidOf } from './solid.js';

const contour = (id: string, ring: Ring) => ({ id, ring, bare: ring, reliefs: [] });

function plate(
  id: string,
  outline: Ring,
  thickness: number,
  frame: Frame,
  through: readonly Ring[] = [],
  pockets: readonly { ring: Ring; face: 'n-' | 'n+'; depth: number }[] = [],
): Solid {
  const part: Part = {
    kind: 'part',
    id,
    name: id,
    thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contour(`${id}.outline`, outline),
    through: through.map((r, i) => contour(`${id}.c${i}`, r)),
    pockets: pockets.map((p, i) => ({ ...contour(`${id}.p${i}`, p.ring), face: p.face, depth: p.depth })),
    holes: [],
    from: [id],
  };
  return solidOf(part, frame, thickness);
}

const flat = (origin: Vec = [0, 0, 0]): Frame => ({ origin, u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] });
const upright = (origin: Vec = [0, 0, 0]): Frame => ({ origin, u: [0, 1, 0], v: [0, 0, 1], n: [1, 0, 0] });
const common = (a: Solid, b: Solid): number => interferenceOf(pairOf(a, b));

/** A frame turned by three angles. */
function turned(origin: Vec, a: number, b: number, c: number): Frame {
  const [ca, sa, cb, sb, cc, sc] = [
    Math.cos(a),
    Math.sin(a),
    Math.cos(b),
    Math.sin(b),
    Math.cos(c),
    Math.sin(c),
  ];
  const u: Vec = [ca * cb, sa * cb, -sb];
  const v: Vec = [ca * sb * sc - sa * cc, sa * sb * sc + ca * cc, cb * sc];
  return { origin, u, v, n: cross(u, v) };
}

const wasm = await Module();
wasm.setup();

/** The common volume by an independent solid kernel, for straight-edged plates. mm³ */
function reference(a: Solid, b: Solid): number {
  const made: { delete(): void }[] = [];
  const keep = <T extends { delete(): void }>(x: T): T => {
    made.push(x);
    return x;
  };
  const points = (r: Ring): [number, number][] => r.vertices.map((v) => [v.x, v.y]);
  const solid = (s: Solid) => {
    const { origin: o, u, v, n } = s.frame;
    const layers = s.layers.map((l) => {
      let section = keep(wasm.CrossSection.ofPolygons([points(l.outer)]));
      for (const hole of l.voids)
        section = keep(section.subtract(keep(wasm.CrossSection.ofPolygons([points(hole.ring)]))));
      return keep(keep(section.extrude(l.w[1] - l.w[0])).translate([0, 0, l.w[0]]));
    });
    const whole = keep(wasm.Manifold.union(layers));
    return keep(whole.transform([...u, 0, ...v, 0, ...n, 0, ...o, 1] as never));
  };
  const both = keep(solid(a).intersect(solid(b)));
  const volume = both.volume();
  for (const x of made) x.delete();
  return volume;
}

/** A star-shaped polygon round a centre. */
const star = (radii: readonly number[], at: Point): Ring =>
  polygonRing(
    radii.map((r, i) => {
      const t = (2 * Math.PI * i) / radii.length;
      return { x: at.x + r * Math.cos(t), y: at.y + r * Math.sin(t) };
    }),
  );

const radii = fc.array(fc.double({ min: 20, max: 60, noNaN: true }), { minLength: 3, maxLength: 9 });
const angle = fc.double({ min: -3, max: 3, noNaN: true });
const place = fc.tuple(
  fc.double({ min: -20, max: 20, noNaN: true }),
  fc.double({ min: -20, max: 20, noNaN: true }),
  fc.double({ min: -20, max: 20, noNaN: true }),
);
const anyPlate = fc.record({
  outline: radii,
  hole: fc.double({ min: 2, max: 8, noNaN: true }),
  depth: fc.double({ min: 1, max: 8, noNaN: true }),
  face: fc.constantFrom('n-' as const, 'n+' as const),
});

const plateOfShape = (
  id: string,
  s: { outline: number[]; hole: number; depth: number; face: 'n-' | 'n+' },
  frame: Frame,
): Solid =>
  plate(
    id,
    star(s.outline, { x: 0, y: 0 }),
    10,
    frame,
    [rectangleRing(-s.hole / 2, -s.hole / 2, s.hole / 2, s.hole / 2)],
    [{ ring: rectangleRing(s.hole / 2, -3, s.hole / 2 + 4, 3), face: s.face, depth: s.depth }],
  );

describe('the common volume of two plates', () => {
  it('is what an independent solid kernel finds, square to each other', () => {
    fc.assert(
      fc.property(anyPlate, anyPlate, place, (a, b, at) => {
        const p = plateOfShape('A', a, flat());
        const q = plateOfShape('B', b, upright(at as Vec));
        const wanted = reference(p, q);
        expect(Math.abs(common(p, q) - wanted)).toBeLessThan(1e-6 * Math.max(1, wanted));
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  it('is what an independent solid kernel finds, at any angle', () => {
    fc.assert(
      fc.property(anyPlate, anyPlate, place, angle, angle, angle, (a, b, at, x, y, z) => {
        const p = plateOfShape('A', a, flat());
        const q = plateOfShape('B', b, turned(at as Vec, x, y, z));
        const wanted = reference(p, q);
        expect(Math.abs(common(p, q) - wanted)).toBeLessThan(1e-6 * Math.max(1, wanted));
      }),
      { numRuns: 40, seed: 11 },
    );
  });

  it('is what an independent solid kernel finds, in parallel planes', () => {
    fc.assert(
      fc.property(anyPlate, anyPlate, place, angle, fc.boolean(), (a, b, at, x, over) => {
        const p = plateOfShape('A', a, flat());
        const q = plateOfShape('B', b, turned([at[0], at[1], at[2] / 2], x, 0, over ? Math.PI : 0));
        const wanted = reference(p, q);
        expect(Math.abs(common(p, q) - wanted)).toBeLessThan(1e-6 * Math.max(1, wanted));
      }),
      { numRuns: 40, seed: 13 },
    );
  });

  it('is the same whichever is named first, and wherever both stand', () => {
    fc.assert(
      fc.property(anyPlate, anyPlate, place, angle, (a, b, at, x) => {
        const p = plateOfShape('A', a, flat());
        const q = plateOfShape('B', b, turned(at as Vec, x, 0.7, 0.3));
        const v = common(p, q);
        expect(common(q, p)).toBeCloseTo(v, 4);
        expect(common(movedSolid(p, [100, -50, 7]), movedSolid(q, [100, -50, 7]))).toBeCloseTo(v, 4);
      }),
      { numRuns: 30, seed: 3 },
    );
  }, 180_000);

  it('is exact for arcs: a disc through a slab', () => {
    // Segment area R² acos(d/R) − d √(R² − d²), for a slab of 10 from the middle (Bronstein, circular segment).
    const disc = plate('D', circleRing({ x: 0, y: 0 }, 50), 8, flat([0, 0, -4]));
    const slab = plate('S', rectangleRing(-100, -100, 100, 100), 10, upright([20, 0, 0]));
    const segment = (d: number) => 2500 * Math.acos(d / 50) - d * Math.sqrt(2500 - d * d);
    expect(common(disc, slab)).toBeCloseTo(8 * (segment(20) - segment(30)), 6);
  });

  it('is nothing for faces in contact, nor for what is thinner than the drawing is good for', () => {
    const a = plate('A', rectangleRing(0, 0, 100, 100), 18, flat());
    const over = (by: number) => plate('B', rectangleRing(0, 0, 100, 100), 18, upright([20, 0, 18 - by]));
    expect(common(a, over(0))).toBe(0);
    expect(common(a, over(0.0005))).toBe(0);
    expect(common(a, over(0.05))).toBeCloseTo(100 * 18 * 0.05, 6);
    expect(common(a, plate('B', rectangleRing(0, 0, 100, 100), 18, flat([0, 0, 18])))).toBe(0);
    expect(common(a, plate('B', rectangleRing(0, 0, 100, 100), 18, flat([0, 0, 17.9])))).toBeCloseTo(1000, 6);
    expect(common(a, plate('B', rectangleRing(0, 0, 100, 100), 18, flat([100, 0, 0])))).toBe(0);
  });

  it('takes four decimals of a half degree for the half degree, and all digits for what they say', () => {
    const [c, k] = [0.5, Math.sin(Math.PI / 3)];
    const board = rectangleRing(0, 0, 900, 100);
    const under = plate('A', board, 10, { origin: [0, 0, 0], u: [c, 0, k], v: [0, -1, 0], n: [k, 0, -c] });
    const on = (u: Vec): Solid => plate('B', board, 10, { origin: [0, 0, 0], u, v: [0, 1, 0], n: [0, 0, 1] });
    // B lies on A face to face; an angle too small by 0.0000127 lets its far end sink in by 0.011 mm.
    const b = (u: Vec): Solid => movedSolid(on(u), [0, -100, 0]);
    expect(common(under, b([c, 0, k]))).toBe(0);
    expect(common(under, b([0.5, 0, 0.866]))).toBe(0);
    const l = Math.hypot(0.866, 0.5);
    expect(common(under, b([0.5 / l, 0, 0.866 / l]))).toBeGreaterThan(0);
  });
});
