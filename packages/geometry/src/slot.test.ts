import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gridNumber } from '../test/arbitraries.js';
import { offsetRing } from './offset-ring.js';
import { rectangleRing } from './ring.js';
import { ringBounds } from './ring-bounds.js';
import { insideGrowth, outsideGrowth, slotClearance, slotCut, slotWidth } from './slot.js';

describe('slotWidth and slotClearance', () => {
  it('undo each other', () => {
    fc.assert(
      fc.property(
        gridNumber(3, 40),
        gridNumber(-0.4, 0.5),
        gridNumber(0, 1),
        gridNumber(0, 0.3),
        (thickness, clearance, faceFilm, wallFilm) => {
          const sheet = { thickness, faceFilm, wallFilm };
          const width = slotWidth({ ...sheet, clearance });
          expect(slotClearance({ ...sheet, width })).toBeCloseTo(clearance, 9);
        },
      ),
      { seed: 31 },
    );
  });

  it('grow by two face films and two wall films (common practice, F5)', () => {
    expect(slotWidth({ thickness: 17.4 })).toBe(17.4);
    expect(slotWidth({ thickness: 17.4, clearance: 0.1, faceFilm: 0.08, wallFilm: 0.05 })).toBeCloseTo(
      17.76,
      12,
    );
    // Laminate of 0.8 mm on both faces and bare walls.
    expect(slotWidth({ thickness: 16, clearance: 0.15, faceFilm: 0.8 })).toBeCloseTo(17.75, 12);
    expect(slotClearance({ width: 18, thickness: 18, faceFilm: 0.1 })).toBeCloseTo(-0.2, 12);
  });

  it('refuse what no sheet or slot can be', () => {
    expect(() => slotWidth({ thickness: 0 })).toThrow(RangeError);
    expect(() => slotWidth({ thickness: 18, faceFilm: -0.1 })).toThrow(RangeError);
    expect(() => slotWidth({ thickness: 18, clearance: -18 })).toThrow(RangeError);
    expect(() => slotWidth({ thickness: Number.NaN })).toThrow(RangeError);
    expect(() => slotClearance({ width: Number.POSITIVE_INFINITY, thickness: 3 })).toThrow(RangeError);
  });
});

describe('insideGrowth and outsideGrowth', () => {
  it('are what the path for one cutter walked with another cuts', () => {
    fc.assert(
      fc.property(gridNumber(3, 12), gridNumber(3, 12), (assumed, measured) => {
        // A slot of 30 and a part of 30, their paths for one cutter, and what another takes along them.
        const [inside] = offsetRing(rectangleRing(0, 0, 90, 30), { by: -assumed / 2 });
        const cut = ringBounds(offsetRing(inside!, { by: measured / 2 })[0]!);
        expect(cut.maxY - cut.minY - 30).toBeCloseTo(insideGrowth({ assumed, measured }), 6);
        const [outside] = offsetRing(rectangleRing(0, 0, 90, 30), { by: assumed / 2 });
        const left = ringBounds(offsetRing(outside!, { by: -measured / 2 })[0]!);
        expect(left.maxY - left.minY - 30).toBeCloseTo(outsideGrowth({ assumed, measured }), 6);
      }),
      { numRuns: 40, seed: 32 },
    );
    expect(() => insideGrowth({ assumed: 0, measured: 6 })).toThrow(RangeError);
    expect(() => outsideGrowth({ assumed: 6, measured: Number.NaN })).toThrow(RangeError);
  });
});

describe('slotCut', () => {
  it('is one pass at the width of the cutter, a loop above, and short below', () => {
    expect(slotCut({ width: 6.35, cutter: 6.35, runout: 0.02 })).toEqual({
      kind: 'single-pass',
      width: expect.closeTo(6.37, 12),
    });
    expect(slotCut({ width: 18, cutter: 6 })).toEqual({ kind: 'loop', inset: 3, width: 18 });
    expect(slotCut({ width: 5, cutter: 6 })).toEqual({ kind: 'too-narrow', short: 1 });
    expect(slotCut({ width: 5.99, cutter: 6, within: 0.02 }).kind).toBe('single-pass');
    expect(() => slotCut({ width: 5, cutter: 0 })).toThrow(RangeError);
    expect(() => slotCut({ width: 5, cutter: 6, runout: -1 })).toThrow(RangeError);
  });
});
