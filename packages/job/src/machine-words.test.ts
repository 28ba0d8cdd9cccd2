import { type CalibrationLength, calibrateMachine } from '@haunch/gauge';
import { describe, expect, it } from 'vitest';
import { machineWords } from './machine-words.js';

const words = (lengths: readonly CalibrationLength[]): string => {
  const found = calibrateMachine(lengths);
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return machineWords(found.value, 'correct', [])[0]!;
};

const PITCHES = (['x', 'y'] as const).map(
  (axis) => ({ kind: 'pitch', axis, cut: 1000, measured: 1000.5 }) as const,
);

describe('machineWords', () => {
  it('says of backlash and squareness that they were not measured, where no length speaks of them', () => {
    const said = words(PITCHES);
    expect(said).toContain('X +0.050 %');
    expect(said).toContain('squareness was not measured');
    expect(said).toContain('backlash along X was not measured');
    expect(said).toContain('backlash along Y was not measured');
    expect(said).not.toContain('is 0.000');
  });

  it('says what was measured, each axis by itself', () => {
    const said = words([
      ...PITCHES,
      { kind: 'pitch', axis: 'x', cut: 100, measured: 100.13, approach: 'opposite' },
      { kind: 'diagonal', dx: 1000, dy: 600, measured: 1.0005 * Math.hypot(1000, 600) },
    ]);
    expect(said).toMatch(/backlash along X is 0\.08\d ± 0\.0\d\d mm/);
    expect(said).toContain('backlash along Y was not measured');
    expect(said).toMatch(/ -?0\.\d\d mrad out of square/);
  });
});
