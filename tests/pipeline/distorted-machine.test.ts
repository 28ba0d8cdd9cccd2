import { describe, expect, it } from 'vitest';
import { madeSideboard } from './sideboard.js';

/** What a machine with 0.05 % too much along X and a shear of 0.3 mrad shows on a calibration cut of 1000 × 600. */
const calibration = (programs: string) => {
  const [sx, shear] = [0.0005, 0.0003];
  const diagonal = (dx: number, dy: number) => ({
    kind: 'diagonal',
    dx,
    dy,
    measured: Math.hypot((1 + sx) * dx + shear * dy, dy),
  });
  return {
    lengths: [
      { kind: 'pitch', axis: 'x', cut: 1000, measured: 1000.5 },
      { kind: 'pitch', axis: 'x', cut: 100, measured: 100.05 },
      { kind: 'pitch', axis: 'y', cut: 600, measured: 600 },
      diagonal(1000, 600),
      diagonal(1000, -600),
    ],
    programs,
  };
};

describe('a machine that is not true', () => {
  it('is shown to spoil joints where its programs are left as they are, and mended where they are corrected', async () => {
    const left = await madeSideboard((j) => {
      j.machine.calibration = calibration('as it is');
    });
    expect(left.pass).toBe(false);
    const ends = left.joints.flatMap((j) => j.fits).filter((f) => f.least !== null);
    const off = Math.max(...ends.map((f) => Math.abs(f.least! - f.wanted)));
    // Half a millimetre in the metre, over parts of half a metre.
    expect(off).toBeGreaterThan(0.03);
    const corrected = await madeSideboard((j) => {
      j.machine.calibration = calibration('correct');
    });
    expect(corrected.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
    for (const f of corrected.joints.flatMap((j) => j.fits))
      if (f.least !== null) expect(Math.abs(f.least - f.wanted), f.fit).toBeLessThan(0.03);
    expect(corrected.pass).toBe(true);
  });
});
