import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CalibrationLength, calibrateMachine } from './calibration.js';
import { commandedPlace, cutPlace, stretchAlong } from './machine-map.js';

interface Truth {
  readonly scaleX: number;
  readonly scaleY: number;
  readonly shear: number;
  readonly backlash: number;
  readonly cutter: number;
}

/** The lengths that a machine with these faults would show on a cut of 1000 × 600. */
function lengthsOf(t: Truth): CalibrationLength[] {
  const diagonal = (dx: number, dy: number): CalibrationLength => ({
    kind: 'diagonal',
    dx,
    dy,
    measured: Math.hypot((1 + t.scaleX) * dx + t.shear * dy, (1 + t.scaleY) * dy),
  });
  return [
    { kind: 'pitch', axis: 'x', cut: 1000, measured: 1000 * (1 + t.scaleX) },
    { kind: 'pitch', axis: 'x', cut: 100, measured: 100 * (1 + t.scaleX) },
    { kind: 'pitch', axis: 'y', cut: 600, measured: 600 * (1 + t.scaleY) },
    { kind: 'pitch', axis: 'x', cut: 100, measured: 100 * (1 + t.scaleX) + t.backlash, approach: 'opposite' },
    { kind: 'pitch', axis: 'y', cut: 100, measured: 100 * (1 + t.scaleY) + t.backlash, approach: 'opposite' },
    { kind: 'inside', axis: 'x', cut: 18, measured: 18 * (1 + t.scaleX) + t.cutter },
    { kind: 'outside', axis: 'y', cut: 20, measured: 20 * (1 + t.scaleY) - t.cutter },
    diagonal(1000, 600),
    diagonal(1000, -600),
  ];
}

const calibrated = (lengths: readonly CalibrationLength[]) => {
  const found = calibrateMachine(lengths);
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};

describe('calibrateMachine', () => {
  it('finds scales, shear, backlash and cutter of any ordinary machine', () => {
    const small = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
    fc.assert(
      fc.property(
        small(1e-3),
        small(1e-3),
        small(1e-3),
        small(0.15),
        small(0.2),
        (scaleX, scaleY, shear, backlash, cutter) => {
          const found = calibrated(lengthsOf({ scaleX, scaleY, shear, backlash, cutter }));
          // Within what the instrument leaves open: 0.015 mm over 1000 and 600 mm.
          expect(Math.abs(found.scaleX.value - scaleX)).toBeLessThan(1e-5);
          expect(Math.abs(found.scaleY.value - scaleY)).toBeLessThan(2e-5);
          expect(Math.abs(found.shear.value - shear)).toBeLessThan(2e-5);
          expect(Math.abs(found.backlashX.value - backlash)).toBeLessThan(0.005);
          expect(Math.abs(found.cutter.value - cutter)).toBeLessThan(0.005);
        },
      ),
      { numRuns: 50 },
    );
  });

  it('agrees with the textbook figure for squareness: γ ≈ (d₁² − d₂²)/(4ab)', () => {
    const lengths = lengthsOf({ scaleX: 0, scaleY: 0, shear: 0.00097, backlash: 0, cutter: 0 });
    const [d1, d2] = lengths.flatMap((l) => (l.kind === 'diagonal' ? [l.measured] : []));
    expect((d1! ** 2 - d2! ** 2) / (4 * 1000 * 600)).toBeCloseTo(0.00097, 6);
    expect(calibrated(lengths).shear.value).toBeCloseTo(0.00097, 5);
  });

  it('leaves what was not measured at zero with a wide doubt', () => {
    const found = calibrated(
      lengthsOf({ scaleX: 0, scaleY: 0, shear: 0.002, backlash: 0, cutter: 0 }).filter(
        (l) => l.kind !== 'diagonal',
      ),
    );
    expect(found.shear.value).toBe(0);
    expect(found.shear.u).toBeGreaterThan(1e-3);
  });

  it('refuses a length that the others contradict, by its number', () => {
    const lengths = lengthsOf({ scaleX: 0, scaleY: 0, shear: 0, backlash: 0, cutter: 0 });
    const wrong = lengths.map((l, i) => (i === 2 ? { ...l, measured: l.measured + 5 } : l));
    const found = calibrateMachine(wrong);
    expect(found.ok).toBe(false);
    expect(found.diagnostics[0]?.message).toContain('length 3');
  });

  it('refuses a cut measured along one axis alone', () => {
    const found = calibrateMachine([{ kind: 'pitch', axis: 'x', cut: 100, measured: 100 }]);
    expect(found.diagnostics.map((d) => d.code)).toEqual(['gauge/calibration-lacks']);
  });
});

describe('the machine’s map', () => {
  const c = calibrated(lengthsOf({ scaleX: 0.0005, scaleY: -0.0002, shear: 0.0003, backlash: 0, cutter: 0 }));

  it('is undone by its inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        (x, y) => {
          const back = cutPlace(c, commandedPlace(c, { x, y }));
          expect(back.x).toBeCloseTo(x, 8);
          expect(back.y).toBeCloseTo(y, 8);
        },
      ),
    );
  });

  it('makes two mates at right angles differ by scale: 0.05 % over 1002 mm is half a millimetre', () => {
    const half = calibrated(lengthsOf({ scaleX: 0.0005, scaleY: 0, shear: 0, backlash: 0, cutter: 0 }));
    expect(1002 * (stretchAlong(half, 0) - stretchAlong(half, Math.PI / 2))).toBeCloseTo(0.501, 2);
  });
});
