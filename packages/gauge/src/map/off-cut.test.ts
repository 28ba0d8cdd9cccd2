import { rectangleRing } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkOffCut, inOffCut, inParent, offCutInParent } from './off-cut.js';

const SHEET = rectangleRing(0, 0, 2440, 1220);

describe('checkOffCut', () => {
  const still = { turnedOver: false, turn: 0, x: 0, y: 0 };
  const said = (width: number, height: number, motion: Partial<typeof still>) =>
    checkOffCut({ width, height }, { ...still, ...motion }, SHEET, {});

  it('finds none that was cut out of the sheet, whichever way it lies now', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        share,
        share,
        share,
        share,
        fc.constantFrom(0, 1, 2, 3),
        fc.boolean(),
        (a, b, c, d, q, over) => {
          const [w, h] = [50 + 500 * a, 50 + 500 * b];
          const [roomW, roomH] = q % 2 === 0 ? [w, h] : [h, w];
          const room = { x: (2440 - roomW) * c, y: (1220 - roomH) * d };
          const motion = { turnedOver: over, turn: (q * Math.PI) / 2, x: 0, y: 0 };
          const corners = offCutInParent(w, h, motion);
          const at = {
            x: room.x - Math.min(...corners.map((p) => p.x)),
            y: room.y - Math.min(...corners.map((p) => p.y)),
          };
          expect(checkOffCut({ width: w, height: h }, { ...motion, ...at }, SHEET, {})).toEqual([]);
          // Moved out over an edge by 5 mm it is found.
          const out = { ...motion, x: at.x + (2440 - roomW - room.x) + 5, y: at.y };
          expect(checkOffCut({ width: w, height: h }, out, SHEET, {})).toHaveLength(1);
        },
      ),
    );
  });

  it('says which corner lies how far outside, and what place was perhaps meant', () => {
    const [turned] = said(800, 300, { turn: Math.PI / 2, x: 0, y: 400 });
    expect(turned?.code).toBe('gauge/off-cut-outside');
    expect(turned?.message).toContain('(0, 300) would have been at (-300, 400) in its sheet, 300 mm outside');
    expect(turned?.hint).toContain('(300, 400)');
    expect(said(800, 300, { x: 1000, y: 1000 })[0]?.message).toContain('80 mm outside its 2440 × 1220 mm');
    expect(said(800, 300, { turnedOver: true })[0]?.hint).toContain('(800, 0)');
    expect(said(800, 300, { x: 1640, y: 920 })).toEqual([]);
  });

  it('carries places there and back', () => {
    const n = fc.double({ min: -900, max: 900, noNaN: true });
    fc.assert(
      fc.property(
        n,
        n,
        n,
        n,
        fc.boolean(),
        fc.double({ min: -4, max: 4, noNaN: true }),
        (x, y, px, py, o, turn) => {
          const motion = { turnedOver: o, turn, x, y };
          const back = inOffCut(motion, inParent(motion, { x: px, y: py }));
          expect(back.x).toBeCloseTo(px, 6);
          expect(back.y).toBeCloseTo(py, 6);
        },
      ),
    );
  });
});
