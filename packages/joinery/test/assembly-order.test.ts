import { polygonRing, type Ring, rectangleRing } from '@haunch/geometry';
import type { MasterMate, MasterPart, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { assemblyOrder, type DryPiece, dryAssemble, type StandingPart } from '../src/index.js';
import { demo, valueIn } from './demo.js';

const contour = (id: string, ring: Ring) => ({ id, ring, bare: ring, reliefs: [] });
const standing = (
  id: string,
  outline: Ring,
  thickness: number,
  frame: MasterPart['frame'],
  through: readonly Ring[] = [],
): StandingPart => ({
  part: {
    kind: 'part',
    id,
    name: id,
    thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contour(`${id}.outline`, outline),
    through: through.map((r, i) => contour(`${id}.m${i + 1}`, r)),
    pockets: [],
    holes: [],
    from: [id],
  } satisfies Part,
  frame,
});
const mate = (
  slotPart: string,
  enteringPart: string,
  enteringMoves: MasterMate['enteringMoves'],
): MasterMate => ({
  id: `M-${slotPart}-${enteringPart}`,
  type: 'through mortise and tenon',
  slotPart,
  slotFeatures: [`${slotPart}.m1`],
  enteringPart,
  enteringMoves,
  locates: [],
});

const lying = (z: number): MasterPart['frame'] => ({ origin: [0, 0, z], u: '+X', v: '+Y', n: '+Z' });
/** An upright plate at y 0 … 10, drawn in (x, z). */
const upright: MasterPart['frame'] = { origin: [0, 10, 0], u: '+X', v: '+Z', n: '-Y' };

/** A plate with heads on both sides of a mortise that only its neck passes: it cannot be there. */
const dumbbell = polygonRing(
  [
    [-40, -50],
    [40, -50],
    [40, 0],
    [10, 0],
    [10, 10],
    [40, 10],
    [40, 60],
    [-40, 60],
    [-40, 10],
    [-10, 10],
    [-10, 0],
    [-40, 0],
  ].map(([x, y]) => ({ x: x!, y: y! })),
);
const holed = standing('A', rectangleRing(-100, -100, 100, 100), 10, lying(0), [
  rectangleRing(-10, 0, 10, 10),
]);
const impossible: DryPiece = {
  parts: [
    holed,
    standing('B', dumbbell, 10, upright),
    standing('C', rectangleRing(-100, -100, 100, 100), 10, lying(200)),
  ],
  mates: [mate('A', 'B', '-Z')],
};

describe('an order of assembly', () => {
  it('is refused with the set that is stuck, and nothing else in it', () => {
    const outcome = assemblyOrder(impossible);
    expect(outcome.ok).toBe(false);
    expect(outcome.diagnostics.map((d) => d.code)).toEqual(['dryfit/stuck']);
    expect(outcome.diagnostics[0]!.message).toMatch(/^A and B hold each other/);
    expect(dryAssemble({ ...impossible, mates: [] }).diagnostics.map((d) => d.code)).toEqual([
      'dryfit/stuck',
    ]);
  });

  it('is found when one head is taken off', () => {
    const stem = polygonRing(
      [
        [10, 0],
        [10, 10],
        [40, 10],
        [40, 60],
        [-40, 60],
        [-40, 10],
        [-10, 10],
        [-10, 0],
      ].map(([x, y]) => ({ x: x!, y: y! })),
    );
    const plan = valueIn(
      assemblyOrder({ parts: [holed, standing('B', stem, 10, upright)], mates: [mate('A', 'B', '-Z')] }),
    );
    expect(plan.steps).toHaveLength(1);
    expect(plan.steps[0]).toMatchObject({ engages: [{ joint: 'M-A-B', features: ['A.m1'] }], hands: 2 });
    expect(plan.captive).toEqual([]);
  });

  it('lists tenons that engage in one move together, and tells what keeps a part in', () => {
    const plan = valueIn(assemblyOrder(demo));
    const top = plan.steps.find((s) => s.moving.length === 1 && s.moving[0] === 'TOP')!;
    expect(top.direction).toBe('-Z');
    expect(top.engages.map((e) => e.joint)).toEqual(['M-TOP-EL', 'M-TOP-ER', 'M-TOP-D1', 'M-TOP-D2']);
    expect(top.engages[0]!.features).toEqual(['TOP.m1', 'TOP.m2']);
    expect(plan.captive.find((c) => c.part === 'EL')!.keptBy).toEqual(['TOP']);
    expect(plan.captive.some((c) => c.part === 'TOP')).toBe(false);
  });

  it('brings every part and every joint home once', () => {
    const plan = valueIn(assemblyOrder(demo));
    expect(plan.steps).toHaveLength(demo.parts.length - 1);
    expect(plan.steps.flatMap((s) => s.engages.map((e) => e.joint)).sort()).toEqual(
      demo.mates.map((m) => m.id).sort(),
    );
    const last = plan.steps.at(-1)!;
    expect([...last.moving, ...last.fixed].sort()).toEqual(demo.parts.map((p) => p.id).sort());
  });

  it('is found for plates that lean: two at sixty degrees slide together along the line they share', () => {
    const c = Math.cos(Math.PI / 3);
    const s = Math.sin(Math.PI / 3);
    // Both lie along Y; each is slotted to half its length, just as wide as the other one is where it passes.
    const slotted = (from: 0 | 1, [low, high]: readonly [number, number]): Ring =>
      polygonRing(
        (from === 0
          ? [
              [-60, 0],
              [low, 0],
              [low, 50],
              [high, 50],
              [high, 0],
              [60, 0],
              [60, 100],
              [-60, 100],
            ]
          : [
              [-60, 0],
              [60, 0],
              [60, 100],
              [high, 100],
              [high, 50],
              [low, 50],
              [low, 100],
              [-60, 100],
            ]
        ).map(([x, y]) => ({ x: x!, y: y! })),
      );
    const piece: DryPiece = {
      parts: [
        standing('A', slotted(0, [-10 / s, (10 * c) / s]), 10, {
          origin: [0, 0, 0],
          u: '+X',
          v: '+Y',
          n: '+Z',
        }),
        standing('B', slotted(1, [(-10 * c) / s, 10 / s]), 10, {
          origin: [0, 0, 0],
          u: [c, 0, s],
          v: '+Y',
          n: [-s, 0, c],
        }),
      ],
      mates: [{ ...mate('A', 'B', '+Y'), slotFeatures: ['the slot'], stopsOn: '+Y' }],
    };
    const done = valueIn(dryAssemble(piece));
    expect(done.interference.total).toBe(0);
    expect(['+Y', '-Y']).toContain(done.plan!.steps[0]!.direction);
    const shallow = copyWith(piece, -5);
    expect(dryAssemble(shallow).diagnostics.map((d) => d.code)).toEqual(['dryfit/short']);
  });
});

/** The piece with its second part moved along Y. */
const copyWith = (piece: DryPiece, by: number): DryPiece => ({
  ...piece,
  parts: piece.parts.map((p, i) =>
    i === 1 ? { ...p, frame: { ...p.frame, origin: [0, -by, 0] as [number, number, number] } } : p,
  ),
});
