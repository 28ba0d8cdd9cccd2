import { loadClip, polygonRing, rectangleRing, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutsOf, polylineOf } from '../test/cuts.js';
import { contourOf, DRILL, inputOf, MACHINE, partOf, ROUTER } from '../test/workshop.js';
import { openEdges } from './open-edges.js';
import { planBoard } from './plan-board.js';

const outline = rectangleRing(50, 50, 350, 250);
const recess = (...corners: [number, number][]) => ({
  ...contourOf('P.h', polygonRing(corners.map(([x, y]) => ({ x, y })))),
  face: 'n+' as const,
  depth: 8,
});
const plate = (pocket: ReturnType<typeof recess>) => partOf('P', outline, { pockets: [pocket] });
const codesOf = (pocket: ReturnType<typeof recess>, more = {}) =>
  planBoard(inputOf([plate(pocket)], more)).diagnostics.map((d) => d.code);

describe('a recess that runs out over an edge', () => {
  // By hand: the wall at x 150 … 168 from y 100 is taken from the edge at 250 on by 3 + 0.5.
  it('is cut beyond it by the cutter’s radius and a little', () => {
    const { contour, open } = openEdges(recess([150, 100], [168, 100], [168, 250], [150, 250]), outline, 3.5);
    expect(open).toBe(1);
    const corners = contour.bare.vertices.map((v) => `${v.x},${v.y}`).sort();
    expect(corners).toEqual(['150,100', '150,253.5', '168,100', '168,253.5']);
  });

  it('keeps one that ends before the edge as it is', () => {
    const closed = recess([150, 100], [168, 100], [168, 249], [150, 249]);
    expect(openEdges(closed, outline, 3.5).contour).toBe(closed);
  });

  it('leaves nothing of it standing but in its closed corners, whatever the slant of its walls', async () => {
    const clip = await loadClip();
    const slant = fc.integer({ min: -25, max: 25 });
    fc.assert(
      fc.property(slant, slant, fc.integer({ min: 20, max: 60 }), (left, right, width) => {
        const x = 180;
        const pocket = recess([x, 150], [x + width, 150], [x + width + right, 250], [x + left, 250]);
        fc.pre(x + width + right - (x + left) > 15);
        const outcome = planBoard(inputOf([plate(pocket)]));
        expect(outcome.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
        if (!outcome.ok) return;
        const step = outcome.value.workplan.steps.find((s) => s.feature === 'P.h')!;
        const floor = cutsOf(outcome.value.toolpath).filter(
          (c) => c.move.from === step.id && c.from.z < -7.99 && c.move.to.z < -7.99,
        );
        const swept = clip.sweep(floor.map(polylineOf), 3, 0.0005);
        const wanted = [pocket.bare.vertices.map(({ x: px, y }) => ({ x: px, y }))];
        const closed = ringSegments(pocket.bare)
          .map((s) => s.to)
          .filter((p) => p.y < 249)
          .map((p) =>
            Array.from({ length: 90 }, (_, i) => ({
              x: p.x + 4 * Math.cos((i * Math.PI) / 45),
              y: p.y + 4 * Math.sin((i * Math.PI) / 45),
            })),
          );
        const area = (ps: readonly (readonly { x: number; y: number }[])[]) =>
          ps.reduce(
            (sum, p) =>
              sum +
              p.reduce((s, a, i) => s + a.x * p[(i + 1) % p.length]!.y - a.y * p[(i + 1) % p.length]!.x, 0) /
                2,
            0,
          );
        expect(Math.abs(area(clip.difference(clip.difference(wanted, swept), closed)))).toBeLessThan(0.05);
        // And it never cuts the part beside the recess.
        const solid = clip.difference(
          [outline.vertices.map(({ x: px, y }) => ({ x: px, y }))],
          clip.grow(wanted, 0.001, 0.0005),
        );
        expect(Math.abs(area(clip.intersection(solid, swept)))).toBeLessThan(0.01);
      }),
      { numRuns: 25 },
    );
  });

  it('is refused where the part’s own material lies beyond the edge', () => {
    const u = partOf(
      'P',
      polygonRing([
        { x: 50, y: 50 },
        { x: 350, y: 50 },
        { x: 350, y: 250 },
        { x: 205, y: 250 },
        { x: 205, y: 100 },
        { x: 202, y: 100 },
        { x: 202, y: 250 },
        { x: 50, y: 250 },
      ]),
      { pockets: [recess([150, 150], [202, 150], [202, 170], [150, 170])] },
    );
    const router = { ...ROUTER, diameter: 3, depthPerPass: 3 };
    const thin = planBoard(inputOf([u], { cutters: [router] })).diagnostics.map((d) => d.code);
    expect(thin).not.toContain('plan/overrun-into-part');
    const wide = planBoard(inputOf([u])).diagnostics.map((d) => d.code);
    expect(wide).toContain('plan/overrun-into-part');
  });

  it('is refused where the cutter is wider than it, with the width that fits', () => {
    expect(codesOf(recess([150, 100], [155, 100], [155, 250], [150, 250]))).toContain(
      'plan/cutter-too-large',
    );
  });
});

describe('a drill with a point', () => {
  const point = (118 * Math.PI) / 180;
  const cutters = [ROUTER, { ...DRILL, pointAngle: point }];
  const holed = (diameter: number, depth: number | 'through') =>
    partOf('P', outline, {
      holes: [{ id: 'P.a', centre: { x: 150, y: 150 }, diameter, face: 'n+', depth }],
    });
  const deep = { ...MACHINE, spoilboard: 2 };
  const stepOf = (diameter: number, depth: number | 'through', machine = deep, drill = cutters[1]!) => {
    const outcome = planBoard(inputOf([holed(diameter, depth)], { cutters: [ROUTER, drill], machine }));
    return outcome.ok
      ? outcome.value.workplan.steps.find((s) => s.feature === 'P.a')!
      : outcome.diagnostics.map((d) => d.code);
  };
  // 2.5 / tan 59° = 1.5022 by hand.
  it('goes deeper by its point', () => {
    expect(stepOf(5, 'through')).toMatchObject({
      depths: [4.9005, 9.801, 14.7014, 19.6022].map((d) => expect.closeTo(d, 2)),
    });
    expect(stepOf(5, 10)).toMatchObject({ kind: 'drilling' });
  });
  it('is refused, or its hole bored, where the point goes too far', () => {
    expect(stepOf(5, 'through', MACHINE)).toContain('plan/drill-point-too-long');
    expect(stepOf(5, 16)).toContain('plan/drill-point-comes-through');
    const drill = { ...cutters[1]!, diameter: 8 };
    const outcome = planBoard(inputOf([holed(8, 'through')], { cutters: [ROUTER, drill] }));
    expect(outcome.diagnostics.map((d) => d.code)).toContain('plan/bored-for-its-point');
  });
});
