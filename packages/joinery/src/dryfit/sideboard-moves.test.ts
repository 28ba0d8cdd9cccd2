import { describe, expect, it } from 'vitest';
import { all, demo, valueIn } from '../../test/demo.js';
import { along, axisVector, frameOf } from '../frame.js';
import { partsOfMaster } from '../parts-of-master.js';
import { refitMaster } from '../refit-master.js';
import { meetingOf, overlapsAlong, travelAlong } from './course.js';
import { back } from './direction.js';
import { interferenceOf } from './interference.js';
import { pairOf } from './pair.js';
import { movedSolid, type Solid, solidOf } from './solid.js';

const solidsAt = (thickness: number): Map<string, Solid> => {
  const master = valueIn(refitMaster(demo, { thicknesses: all(demo, thickness) }));
  return new Map(
    partsOfMaster(master).map((p, i) => [p.id, solidOf(p, frameOf(master.parts[i]!), p.thickness!)]),
  );
};

describe.each([18, 17.4])('the joints of the sideboard at %d mm', (thickness) => {
  const solids = solidsAt(thickness);
  for (const mate of demo.mates) {
    const slot = solids.get(mate.slotPart)!;
    const entering = solids.get(mate.enteringPart)!;
    it(`${mate.id} collides 0.05 mm off in each located direction, and not when drawn back`, () => {
      for (const axis of mate.locates) {
        const moved = movedSolid(entering, along([0, 0, 0], 0.05, axisVector(axis)));
        expect(interferenceOf(pairOf(moved, slot)), String(axis)).toBeGreaterThan(0);
      }
      for (const by of [0.05, 1, 10, 200]) {
        const out = movedSolid(entering, along([0, 0, 0], by, back(axisVector(mate.enteringMoves))));
        expect(interferenceOf(pairOf(out, slot))).toBe(0);
      }
    });
    it(`${mate.id}: the sweep meets what the exact volume meets`, () => {
      const meeting = meetingOf(pairOf(entering, slot));
      for (const d of [...mate.locates, mate.enteringMoves].map(axisVector)) {
        expect(travelAlong(meeting, d)).toBeCloseTo(0, 6);
        const stretches = overlapsAlong(meeting, d, 0);
        for (const by of [0.05, 3, 30, 300]) {
          const volume = interferenceOf(pairOf(movedSolid(entering, along([0, 0, 0], by, d)), slot));
          if (stretches.some(([from, to]) => from < by && by < to)) expect(volume).toBeGreaterThan(0);
        }
      }
    });
  }
});
