import { moveRing, polygonRing, rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toWorld } from '../frame.js';
import type { FlatPart } from './flat-part.js';
import { laidStraight } from './laid-straight.js';

const plate: FlatPart = {
  id: 'A',
  thickness: 18,
  outline: polygonRing([
    { x: 0, y: 0 },
    { x: 400, y: 0 },
    { x: 400, y: 210 },
    { x: 260, y: 210 },
    { x: 260, y: 120 },
    { x: 0, y: 120 },
  ]),
  through: [rectangleRing(30, 20, 48, 90), rectangleRing(330, 40, 380, 58)],
  pockets: [{ ring: rectangleRing(100, 30, 220, 60), depth: 6, face: 'n-' }],
};

const moved = (p: FlatPart, motion: Parameters<typeof moveRing>[0]): FlatPart => ({
  ...p,
  outline: moveRing(motion, p.outline),
  through: [...p.through].reverse().map((r) => moveRing(motion, r)),
  pockets: p.pockets.map(({ ring, depth, face }) => ({
    ring: moveRing(motion, ring),
    depth,
    face: ((face ?? 'n+') === 'n+') === motion.mirror ? 'n-' : 'n+',
  })),
});

const motions = fc.record({
  mirror: fc.boolean(),
  turn: fc.double({ min: -4, max: 4, noNaN: true }),
  dx: fc.integer({ min: -900, max: 900 }),
  dy: fc.integer({ min: -900, max: 900 }),
});

const placesOf = (p: FlatPart): number[][] =>
  [p.outline, ...p.through, ...p.pockets.map((q) => q.ring)].flatMap((r) =>
    r.vertices.map(({ x, y }) => [x, y]),
  );

describe('laidStraight', () => {
  it('lays a part in the same way however it was drawn', () => {
    const once = laidStraight(plate);
    fc.assert(
      fc.property(motions, (motion) => {
        const again = laidStraight(moved(plate, motion));
        expect(again.words).toEqual(once.words);
        expect(again.part.pockets[0]!.face).toBe(once.part.pockets[0]!.face);
        placesOf(again.part).forEach((p, k) => {
          expect(p[0]).toBeCloseTo(placesOf(once.part)[k]![0]!, 6);
          expect(p[1]).toBeCloseTo(placesOf(once.part)[k]![1]!, 6);
        });
      }),
    );
  });

  it('says by the frame where each corner of the drawing lies, and on which face a pocket is', () => {
    fc.assert(
      fc.property(motions, (motion) => {
        const drawn = moved(plate, motion);
        const { part, own } = laidStraight(drawn);
        for (const v of drawn.outline.vertices) {
          const [x, y] = toWorld(own, v, 0);
          expect(Math.min(...part.outline.vertices.map((q) => Math.hypot(q.x - x, q.y - y)))).toBeLessThan(
            1e-6,
          );
        }
        const same = drawn.pockets[0]!.face === part.pockets[0]!.face;
        expect([own.origin[2], own.n[2]]).toEqual(same ? [0, 1] : [18, -1]);
      }),
    );
  });

  it('tells a part from its mirror image by the pocket in one face', () => {
    const image = { ...plate, pockets: plate.pockets.map((p) => ({ ...p, face: 'n+' as const })) };
    expect(laidStraight(image).words).not.toEqual(laidStraight(plate).words);
  });
});
