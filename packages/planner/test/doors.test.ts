import { distance, polygonRing, rectangleRing, ringPerimeter } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { contextsOf } from '../src/contexts-of.js';
import { doorsOf, through } from '../src/operation.js';
import { planItem } from '../src/plan-item.js';
import { relieved } from './relieved.js';
import { contourOf, inputOf, partOf } from './workshop.js';

const slot = (id: string, x: number, y: number, w: number, h: number) =>
  relieved(contourOf(id, rectangleRing(x, y, x + w, y + h)), 'inside', 3);

const plate = partOf('P', rectangleRing(50, 50, 450, 350), {
  through: [slot('P.m1', 100, 100, 18, 90), slot('P.m2', 200, 100, 120, 60)],
  pockets: [{ ...slot('P.h1', 150, 250, 100, 18), face: 'n+', depth: 8 }],
});
// Every wall of the slots and the recess mates, so that each is roughed first and finished at full depth.
const mating = new Set(
  [...plate.through, ...plate.pockets].flatMap((c) => c.bare.vertices.map((v) => v.tag!)),
);

const planned = (more = {}) => {
  const input = { ...inputOf([plate]), mating, ...more };
  return planItem(contextsOf(input)[0]!, input).operations;
};

describe('the doors of a cut', () => {
  it('are where its moves begin and end, whichever is taken', () => {
    const operations = planned();
    for (const o of operations)
      doorsOf(o).forEach(({ start, end }, k) => {
        const { moves } = through(o, k);
        expect(distance(moves[0]!.to, start), `${o.feature} by door ${k}`).toBeLessThan(0.001);
        expect(distance(moves.at(-1)!.to, end), `${o.feature} by door ${k}`).toBeLessThan(0.001);
      });
    expect(
      operations.filter((o) => o.finish !== undefined && o.ways?.length).map((o) => o.feature),
    ).toContain('P.m1');
  });

  it('let a slot that is finished end at the end where it was begun', () => {
    const [m1] = planned().filter((o) => o.feature === 'P.m1');
    const doors = doorsOf(m1!);
    expect(doors).toHaveLength(2);
    for (const { start, end } of doors) expect(distance(start, end)).toBeLessThan(1);
    // One at each end of the slot, 90 mm long.
    expect(distance(doors[0]!.start, doors[1]!.start)).toBeGreaterThan(60);
  });

  it('lie all round an outline, not side by side', () => {
    const outline = planned().find((o) => o.kind === 'outside profile')!;
    const starts = doorsOf(outline).map((d) => d.start);
    expect(starts).toHaveLength(4);
    const quarter = ringPerimeter(polygonRing(plate.outline.bare.vertices)) / 4;
    starts.forEach((p, i) => {
      for (const q of starts.slice(i + 1)) expect(distance(p, q)).toBeGreaterThan(quarter / 2);
    });
  });
});
