import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornerSpeed, motionSeconds, travelSeconds } from './motion-time.js';

// Constant-acceleration kinematics; the worked figures are reference values C13 and C14.
describe('travel time', () => {
  it.each([
    [{ length: 500, speed: 200, acceleration: 1000 }, 2.7],
    [{ length: 20, speed: 200, acceleration: 1000 }, 0.282843],
    [{ length: 100, speed: 200, acceleration: 1000, entering: 20, leaving: 50 }, 0.63725],
    [{ length: 10, speed: 200, acceleration: 1000, entering: 20, leaving: 50 }, 0.144009],
  ])('of %j is %d s', (travel, seconds) => expect(travelSeconds(travel)).toBeCloseTo(seconds, 6));

  it('is never less than at full speed all the way', () => {
    const v = fc.double({ min: 1, max: 500, noNaN: true });
    fc.assert(
      fc.property(v, v, fc.double({ min: 50, max: 5000, noNaN: true }), (length, speed, acceleration) => {
        expect(travelSeconds({ length, speed, acceleration })).toBeGreaterThanOrEqual(length / speed - 1e-9);
      }),
    );
  });

  it('refuses a standing machine', () =>
    expect(() => travelSeconds({ length: 1, speed: 0, acceleration: 1 })).toThrow(RangeError));
});

describe('corner speed', () => {
  it.each([
    [60, 4.472136],
    [90, 6.948688],
    [120, 11.370226],
    [135, 15.580161],
    [170, 72.358999],
  ])('through an interior angle of %d° is %d mm/s', (degrees, speed) => {
    const turn = Math.PI - (degrees * Math.PI) / 180;
    expect(cornerSpeed([1, 0], [Math.cos(turn), Math.sin(turn)], 1000, 0.02)).toBeCloseTo(speed, 4);
  });
  it('knows no limit straight on', () => expect(cornerSpeed([1, 0], [1, 0], 1000)).toBe(Infinity));
});

describe('motion time', () => {
  const machine = { rapidRate: 12000, acceleration: 1000 };
  const to = (x: number, y: number) => ({ kind: 'rapid' as const, to: { x, y, z: 0 } });
  it('of one straight stretch is its travel time', () =>
    expect(motionSeconds({ x: 0, y: 0, z: 0 }, [to(500, 0)], machine)).toBeCloseTo(2.7, 9));
  it('does not change when a straight stretch is cut into pieces', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.5, max: 499, noNaN: true }), { maxLength: 8 }), (cuts) => {
        const moves = [...cuts.sort((a, b) => a - b), 500].map((x) => to(x, 0));
        expect(motionSeconds({ x: 0, y: 0, z: 0 }, moves, machine)).toBeCloseTo(2.7, 6);
      }),
    );
  });
  it('never drives through an arc faster than √(a·r)', () => {
    const arc = {
      kind: 'circular' as const,
      to: { x: -5, y: 0, z: 0 },
      centre: { x: 0, y: 0 },
      turn: 'ccw' as const,
      feed: 60000,
    };
    // C14: r 5 mm, a 1000 mm/s²: 70.710678 mm/s.
    expect(motionSeconds({ x: 5, y: 0, z: 0 }, [arc], machine)).toBeGreaterThan((5 * Math.PI) / 70.710678);
  });
});
