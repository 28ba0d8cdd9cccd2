import { describe, expect, it } from 'vitest';
import { cornerSpeed, legTime } from './run-time.js';

describe('run time', () => {
  it('is that of trapezoids and triangles', () => {
    // Reference value C13, computed from v = a·t.
    expect(legTime(500, 0, 0, 200, 1000)).toBeCloseTo(2.7, 9);
    expect(legTime(20, 0, 0, 200, 1000)).toBeCloseTo(0.282843, 6);
    expect(legTime(100, 20, 50, 200, 1000)).toBeCloseTo(0.63725, 5);
    expect(legTime(10, 20, 50, 200, 1000)).toBeCloseTo(0.144009, 6);
    expect(legTime(0, 0, 0, 200, 1000)).toBe(0);
  });

  it('slows at corners to the circle that stays 0.02 mm off them', () => {
    // Reference value C14: interior angles of 60°, 90°, 120°, 170° at 1000 mm/s².
    const degrees = (d: number) => cornerSpeed(Math.cos((d * Math.PI) / 180), 1000);
    expect(degrees(60)).toBeCloseTo(4.472136, 6);
    expect(degrees(90)).toBeCloseTo(6.948688, 6);
    expect(degrees(120)).toBeCloseTo(11.370226, 6);
    expect(degrees(170)).toBeCloseTo(72.358999, 5);
    expect(degrees(180)).toBe(Infinity);
  });
});
