import { describe, expect, it } from 'vitest';
import { chipThinning, cutterDeflection, cuttingForce, depthDerating } from './cutting-force.js';
import { checkHold, tabCapacity, vacuumCapacity } from './hold-down.js';

describe('cutting forces', () => {
  it('give the worked example: 6 mm deep, 9.525 mm wide, 6,000 mm/min at 30 N/mm²', () => {
    const e = { diameter: 9.525, flutes: 2, depth: 6, width: 9.525, feed: 6000, rpm: 18_000 };
    const f = cuttingForce(e, 30);
    expect(f.power).toBeCloseTo(171.45, 6);
    expect(f.cuttingSpeed).toBeCloseTo(8.9771, 4);
    expect(f.mean).toBeCloseTo(19.0986, 4);
    // One edge's thickest chip: 6000 / (2 · 18000) = 0.166667 mm, 6 mm deep.
    expect(f.peak).toBeCloseTo(30, 4);
    expect(cuttingForce(e, 32).power).toBeCloseTo(182.88, 6);
    expect(cuttingForce(e, 37.6).power).toBeCloseTo(214.884, 6);
  });

  it('thin chips where little of the cutter is engaged (5 %, 10 %, 25 %, half)', () => {
    expect(chipThinning(0.05, 1)).toBeCloseTo(2.294157, 6);
    expect(chipThinning(0.1, 1)).toBeCloseTo(1.666667, 6);
    expect(chipThinning(0.25, 1)).toBeCloseTo(1.154701, 6);
    expect(chipThinning(0.5, 1)).toBe(1);
    expect(() => chipThinning(2, 1)).toThrow(RangeError);
  });

  it('derate the chip load by a quarter at two diameters deep and by half at three', () => {
    expect([0.5, 1, 2, 3, 5].map((k) => depthDerating(6 * k, 6))).toEqual([1, 1, 0.75, 0.5, 0.5]);
  });

  it('bend a cutter of 6.35 mm, 25 mm out, by 0.005438 mm under 50 N', () => {
    expect(cutterDeflection(50, 6.35, 25)).toBeCloseTo(0.005438, 6);
    expect(cutterDeflection(40, 9.525, 32)).toBeCloseTo(0.001802, 6);
  });

  it('refuse figures that make no sense', () => {
    expect(() => cuttingForce({ diameter: 6, flutes: 2, depth: 0, width: 6, feed: 1, rpm: 1 }, 30)).toThrow(
      RangeError,
    );
    expect(() => cuttingForce({ diameter: 6, flutes: 2, depth: 1, width: 7, feed: 1, rpm: 1 }, 30)).toThrow(
      /exceeds/,
    );
  });
});

describe('holding', () => {
  it('gives the worked vacuum figures: 200 × 100 at 50 kPa and 0.4 holds 400 N; 50 × 50 at 20 kPa and 0.3 holds 15 N', () => {
    expect(vacuumCapacity(20_000, 50, 0.4)).toBeCloseTo(400, 9);
    expect(vacuumCapacity(2_500, 20, 0.3)).toBeCloseTo(15, 9);
    expect(vacuumCapacity(2_400, 40, 0.35)).toBeCloseTo(33.6, 9);
  });

  it('finds the small plate too weakly held against a peak of 30 N, and two tabs of 6 × 3 enough', () => {
    expect(checkHold({ tabs: [], area: 2_500, pressure: 20 }, 30).holds).toBe(false);
    expect(tabCapacity(6, 3)).toBe(90);
    const held = checkHold(
      {
        tabs: [
          { width: 6, height: 3 },
          { width: 6, height: 3 },
        ],
        area: 0,
        pressure: 0,
      },
      30,
    );
    expect(held).toMatchObject({ holding: 180, holds: true, margin: 3 });
    expect(() => checkHold({ tabs: [], area: 0, pressure: 0 }, 0)).toThrow(RangeError);
  });
});
